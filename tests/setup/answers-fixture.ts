import { readFileSync } from 'node:fs';
import { type Answers, readAnswers } from '../../src/setup/answers.ts';

/** The explained example, as a coordinator copies it. */
export const exampleText = readFileSync(new URL('../../deploy/setup.example.yaml', import.meta.url), 'utf8');

/** What the example says; other parts in place of its own. */
export function exampleAnswers(other: Partial<Answers> = {}): Answers {
  const { answers, problems } = readAnswers('setup.yaml', exampleText);
  if (!answers || problems.length > 0) throw new Error('the example has faults');
  return { ...answers, ...other };
}

/** The example with a piece in place of another that stands in it once. */
export function changedExample(piece: string, by: string): string {
  if (exampleText.split(piece).length !== 2) throw new Error(`${piece} does not stand there once`);
  return exampleText.replace(piece, by);
}

type Pieces = readonly (readonly [piece: string, by: string])[];

/** A district's names in place of the invented ones of the package, and a link by SMS alone. */
const ofADistrict: Pieces = [
  ['id: tamboro', 'id: norvale'],
  ['Tamboro', 'Norvale'],
  ['oruma', 'hada'],
  ['ORUMA', 'HADA'],
  ['kesu', 'pelo'],
  ['KESU', 'PELO'],
  ['Kesu', 'Pelo'],
  ['velin', 'sorin'],
  ['Velin', 'Sorin'],
  [' mora', ' lund'],
  ['Mora', 'Lund'],
  ['Box 7', 'Box 3'],
  ['Box 12', 'Box 9'],
  [', "telegram:invite"', ''],
  ['casesAMonth: 20', ''],
  ['telegram:\n  tokenFile: /etc/neckline/telegram-token\n', ''],
];

/** What a district answers; other pieces of the example in place of its own. */
export function answersOfADistrict(places: Pieces): string {
  return [...ofADistrict, ...places].reduce((text, [piece, by]) => {
    if (!text.includes(piece)) throw new Error(`the example has no ${piece}`);
    return text.replaceAll(piece, by);
  }, exampleText);
}
