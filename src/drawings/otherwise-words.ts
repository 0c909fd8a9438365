/** What a finding would have to be, in words: `edge: jagged`, `size: 10 mm or less`, `without: hoarse voice`. */
import type { Otherwise } from '../clinical/what-would-change.ts';
import { sayWord, type Words } from '../text/say-word.ts';
import { keyPart } from './words.ts';

const looks: Readonly<Record<string, string>> = {
  composition: 'inside',
  spongiformWhole: 'inside',
  eccentric: 'inside',
  solidPartMm: 'inside',
  mm: 'size',
  echogenicity: 'grey',
  hypoechoicPart: 'grey',
  shape: 'shape',
  margin: 'edge',
  capsule: 'capsule',
  foci: 'foci',
};

const valueKeys: Readonly<Record<string, string>> = {
  spongiformWhole: 'whole',
  foci: 'focus',
};

/** `lump`: the name of the lump where there are several, else empty. */
export function otherwiseText({ field, value, present, against }: Otherwise, words: Words, lump: string): string {
  const look = looks[field];
  if (look === undefined) return patientText({ field, value, present, against }, words);
  const name = sayWord(words, `picture-look-${look}`);
  const told =
    against === null
      ? sayWord(words, `picture-${valueKeys[field] ?? keyPart(field)}-${keyPart(value)}`)
      : sizeText(Number(value), against, words);
  const part = field === 'solidPartMm' ? `${sayWord(words, 'picture-solid-part')} ${told}` : told;
  const whole = present ? part : sayWord(words, 'picture-without', { what: part });
  return [lump, `${name}: ${whole}`].filter((one) => one !== '').join(', ');
}

const sizeText = (value: number, against: NonNullable<Otherwise['against']>, words: Words): string =>
  sayWord(words, `picture-size-${against}`, { mm: String(value) });

function patientText(
  { field, value, present, against }: Pick<Otherwise, 'field' | 'value' | 'present' | 'against'>,
  words: Words,
): string {
  if (against !== null) return sayWord(words, `picture-if-age-${against}`, { years: String(value) });
  const said = sayWord(words, `picture-if-${keyPart(field)}-${keyPart(value)}`);
  return present ? said : sayWord(words, 'picture-without', { what: said });
}
