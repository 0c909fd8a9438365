/** What a quick text said, as the guided questions keep it in the case. */
import { type AskedPart, askedParts, partNames } from '../../case/asked-parts.ts';
import type { readQuickText } from '../quick-text.ts';

type Quick = ReturnType<typeof readQuickText>['answers'];

/** An answer of the case. */
export interface QuickField {
  readonly field: string;
  readonly item: string | null;
  readonly value: string | number | boolean | null | readonly string[] | readonly number[];
}

/**
 * The quick text's answers as the dialogue keeps them. Nothing that was said is left out: a list that was not said to be
 * complete, or that denies itself, is kept and asked; one said to its end counts as asked. Features that were said count as
 * the description of their nodule. Nodules of which a side or every size is missing are not counted, so that the sizes are
 * asked; what was said of a single one stands.
 */
export function quickFields(answers: Quick): readonly QuickField[] {
  const fields: QuickField[] = [...listFields(answers)];
  const items = [...new Set(answers.flatMap((one) => (one.item === null ? [] : [one.item])))].sort();
  const measured = items.every((item) => {
    const said = (names: readonly string[]): boolean =>
      answers.some((one) => one.item === item && names.includes(one.field));
    return said(['site']) && said(['mm', 'mmRange', 'mmTwo']);
  });
  // Of several nodules it would not be known which one a later answer means.
  const kept = measured || items.length === 1 ? items : [];
  const felt = answers.find((one) => one.field === 'palpable');
  const sides = sidesFelt(answers);
  // Felt, and nobody said where: the side is asked.
  const feltNowhere = felt?.value === true && sides.length === 0;
  for (const { field, item, value } of answers) {
    if (item !== null && !kept.includes(item)) continue;
    if (ofLists.has(field) || field === 'side') continue;
    if (feltNowhere && (field === 'palpable' || field === 'examined')) continue;
    if (field === 'palpable') {
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
    const described = said.some((one) => ['echogenicity', 'shape', 'margin', 'capsule'].includes(one.field));
    const looks = seen.filter((word) => !isBright(word));
    if (described) fields.push({ field: 'features', item, value: [...new Set(looks), 'unknown'] });
    const foci = said.find((one) => one.field === 'foci');
    if (foci && !foci.contradicts) fields.push({ field: 'asked-bright', item, value: foci.value });
  }
  return fields;
}

/** Lists of which the guided questions ask a part each. */
const ofLists: ReadonlySet<string> = new Set(['dangerSigns', 'lump', 'risks', 'bleeding']);

const isBright = (word: string): boolean =>
  word === 'punctate' || word === 'macrocalcification' || word === 'rim-calcification';

const textsOf = (value: QuickField['value']): readonly string[] => (Array.isArray(value) ? value.map(String) : []);

/** Danger signs, family and bleeding: what was said of each, and which questions that answers. */
function listFields(answers: Quick): readonly QuickField[] {
  const said = (field: string) => answers.find((one) => one.field === field);
  const lump = said('lump');
  const fields: QuickField[] = lump ? [{ field: 'lump', item: null, value: lump.value }] : [];
  for (const field of ['dangerSigns', 'risks', 'bleeding'] as const) {
    const list = said(field);
    if (!list) continue;
    const items = textsOf(list.value);
    const whole = !items.includes('unknown');
    const asked = whole ? partsAnswered(field, items, lump !== undefined) : [];
    const open = whole && partsOf(field).length > asked.length;
    fields.push({ field, item: null, value: open ? [...items, 'unknown'] : items });
    for (const part of asked) {
      const own: readonly string[] = askedParts[part].ids;
      fields.push({ field: `asked.${part}`, item: null, value: items.filter((one) => own.includes(one)) });
    }
    if (asked.includes('lump')) fields.push({ field: 'lump', item: null, value: [] });
    if (field === 'bleeding') fields.push(...ofThinners(items, whole));
  }
  return fields;
}

const partsOf = (field: string): readonly AskedPart[] => partNames.filter((part) => askedParts[part].field === field);

/**
 * The questions that a list which was said to its end answers: all of them where it denies. Of danger signs that were named
 * only those that ask for one of them: whoever says `signs hoarse` has said nothing of the breathing. What beats like a pulse
 * leaves the lump to be asked.
 */
function partsAnswered(field: string, items: readonly string[], beats: boolean): readonly AskedPart[] {
  const parts = partsOf(field).filter((part) => !(part === 'lump' && beats));
  if (field !== 'dangerSigns' || items.length === 0) return parts;
  return parts.filter((part) => items.some((one) => (askedParts[part].ids as readonly string[]).includes(one)));
}

/** A thinner by its name answers which one it is. */
function ofThinners(items: readonly string[], whole: boolean): readonly QuickField[] {
  const kinds = items.filter((one) => !['warfarin', 'bleeding-disorder', 'unknown'].includes(one));
  if (!whole || kinds.length === 0) return [];
  return [
    { field: 'otherThinner', item: null, value: true },
    { field: 'thinnerKind', item: null, value: kinds },
  ];
}

/** Sides on which a lump was felt: as said with the word, else that of the nodules where they share one. */
function sidesFelt(answers: Quick): readonly string[] {
  const named = answers.filter((one) => one.field === 'side').map((one) => String(one.value));
  const sites = [...new Set(answers.filter((one) => one.field === 'site').map((one) => String(one.value)))];
  return named.length > 0 ? [...new Set(named)] : sites.length === 1 ? sites : [];
}
