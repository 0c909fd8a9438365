/** The findings of the whole case as one quick text, in the trade words of a language. */
import type { QuickVocabulary } from '../conversation/answers/quick-vocabulary.ts';

/** What is said of the lump, the thyroid and the examination; every field of one phrase. */
const findings: readonly (readonly (readonly [field: string, value: string | boolean])[])[] = [
  [['composition', 'solid']],
  [['echogenicity', 'hypoechoic']],
  [['margin', 'irregular']],
  [['foci', 'punctate']],
  [['tsh', 'normal']],
  [
    ['examined', true],
    ['palpable', true],
  ],
  [
    ['ultrasound.done', true],
    ['ultrasound.probe', 'linear'],
  ],
];

/** `NEW AK 1982 f r 22x15x14 solid hypo ...`; null where the language lacks a word for something. */
export function quickFindings(vocabulary: QuickVocabulary): string | null {
  const { start, patient, sides, words, lists, none } = vocabulary;
  const named = (all: Readonly<Record<string, string>>, meaning: string) =>
    Object.keys(all).find((one) => all[one] === meaning);
  const said = findings.map((fields) =>
    Object.keys(words).find((phrase) => {
      const meanings = words[phrase]!;
      const means = ([field, value]: readonly [string, string | boolean]) =>
        meanings.some((one) => one.field === field && one.value === value);
      return meanings.length === fields.length && fields.every(means);
    }),
  );
  const absent = ['dangerSigns', 'risks', 'bleeding'].flatMap((list) => [named(lists, list), none[0]]);
  const parts = [start[0], 'AK', '1982', named(patient.sex, 'female'), named(sides, 'right'), '22x15x14'];
  const all = [...parts, ...said, ...absent];
  return all.some((one) => one === undefined) ? null : all.join(' ');
}
