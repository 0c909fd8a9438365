/** The widest names that a programme may have: every text is counted with them. Our convention. */

/** What stands for it in the registry's samples, and the longest that it may be. */
const widest: readonly (readonly [RegExp, string])[] = [
  [/\bAK\d*\b/gu, 'AKO48'],
  // 36 letters: the longest name of a hospital or of a place to go at night that a programme may have.
  [/\bVelin Hospital(?:, gate 2)?/gu, 'Saint Velin Mission Hospital, gate 2'],
  // 24 letters.
  [/\bOruma clinic\b/giu, 'Oruma North Health Posts'],
  [/\bLab Velin\b/gu, 'Velin Pathology Lab'],
  [/\bDr Tano\b/gu, 'Dr Tanovela Moressi'],
  [/\b(?:Ada Lumo|Ada Tano|Beno Sarr)\b/gu, 'Adamina Lumosari'],
  // 16 characters.
  [/\+000 ?555 ?010 ?\d{1,4}/gu, '+000 55501000421'],
];

/** A value as wide as it can be. */
export function atItsWidest(sample: string): string {
  return widest.reduce((text, [usual, wide]) => text.replaceAll(usual, wide), sample);
}

/** Values that name up to two lumps, or more than the usual sample says, by placeholder. */
export const twoTargets: ReadonlyMap<string, string> = new Map([
  ['targets', 'RIGHT lump, 22 mm and LEFT neck node, 15 mm'],
  ['nodule', 'AKO48 R 22x15x14'],
]);
