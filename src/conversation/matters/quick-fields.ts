/** What a quick text said, as the guided questions keep it in the case. */
import type { readQuickText } from '../quick-text.ts';

type Quick = ReturnType<typeof readQuickText>['answers'];

/** An answer of the case. */
export interface QuickField {
  readonly field: string;
  readonly item: string | null;
  readonly value: string | number | boolean | null | readonly string[] | readonly number[];
}

/**
 * The quick text's answers as the dialogue keeps them. A list that was not said to be complete is left out, so that
 * signs, risks and bleeding are asked; features that were said count as the description of their nodule. Nodules of which
 * a side or every size is missing are not counted, so that the sizes are asked; what was said of a single one stands.
 */
export function quickFields(answers: Quick): readonly QuickField[] {
  const fields: QuickField[] = [];
  const items = [...new Set(answers.flatMap((one) => (one.item === null ? [] : [one.item])))].sort();
  const measured = items.every((item) => {
    const said = (names: readonly string[]): boolean =>
      answers.some((one) => one.item === item && names.includes(one.field));
    return said(['site']) && said(['mm', 'mmRange', 'mmTwo']);
  });
  // Of several nodules it would not be known which one a later answer means.
  const kept = measured || items.length === 1 ? items : [];
  // Felt, and nobody said where: the side is asked.
  const feltNowhere =
    sidesFelt(answers).length === 0 && answers.some((one) => one.field === 'palpable' && one.value === true);
  const bleeding = answers.find((one) => one.field === 'bleeding');
  for (const answer of answers) {
    const { field, item, value } = answer;
    if (item !== null && !kept.includes(item)) continue;
    const open = Array.isArray(value) && value.some((one) => one === 'unknown');
    if ((field === 'dangerSigns' || field === 'bleeding') && open) continue;
    // One question asks risks and bleeding together: it is skipped only when both were said.
    if (field === 'risks' && (open || !bleeding)) continue;
    if (field === 'side') continue;
    if (feltNowhere && (field === 'palpable' || field === 'examined')) continue;
    if (field === 'palpable') {
      const sides = sidesFelt(answers);
      fields.push({ field: 'felt', item: null, value: value === true ? sides : [] });
      fields.push({ field: 'examined', item: null, value: true });
      continue;
    }
    fields.push({ field, item, value });
  }
  const probe = answers.find((one) => one.field === 'ultrasound.probe');
  const done = answers.some((one) => one.field === 'ultrasound.done');
  if (probe && !done) fields.push({ field: 'ultrasound.done', item: null, value: true });
  if (measured && items.length > 0) fields.push({ field: 'nodules', item: null, value: items });
  const features: Readonly<Record<string, string>> = {
    hypoechoic: 'hypoechoic',
    'very-hypoechoic': 'very-hypoechoic',
    'taller-than-wide': 'taller-than-wide',
    irregular: 'irregular',
    lobulated: 'irregular',
    spiculated: 'irregular',
    invaded: 'invaded',
    punctate: 'punctate',
    macrocalcification: 'macrocalcification',
    'rim-calcification': 'rim-calcification',
  };
  for (const item of kept) {
    const said = answers.filter((one) => one.item === item);
    const words = said.flatMap((one) => (Array.isArray(one.value) ? one.value.map(String) : [String(one.value)]));
    const seen = words.flatMap((word) => features[word] ?? []);
    const described = said.some((one) => ['echogenicity', 'shape', 'margin', 'foci', 'capsule'].includes(one.field));
    if (described) fields.push({ field: 'features', item, value: [...new Set(seen), 'unknown'] });
  }
  return fields;
}

/** Sides on which a lump was felt: as said with the word, else those of the nodules. */
function sidesFelt(answers: Quick): readonly string[] {
  const named = answers.filter((one) => one.field === 'side');
  const shown = named.length > 0 ? named : answers.filter((one) => one.field === 'site');
  return [...new Set(shown.map((one) => String(one.value)))];
}
