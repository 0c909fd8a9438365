import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { ShownOption } from '../../../src/conversation/answers/answer.ts';
import { readChoice } from '../../../src/conversation/answers/choice.ts';
import { readChoices } from '../../../src/conversation/answers/choices.ts';
import { readCode } from '../../../src/conversation/answers/code.ts';
import { readConfirmation } from '../../../src/conversation/answers/confirmation.ts';
import { readDate } from '../../../src/conversation/answers/date.ts';
import { readDiameters } from '../../../src/conversation/answers/diameters.ts';
import { readNumber } from '../../../src/conversation/answers/number.ts';
import { readPatient } from '../../../src/conversation/answers/patient.ts';
import { readPerSlide } from '../../../src/conversation/answers/per-slide.ts';
import type { QuickVocabulary } from '../../../src/conversation/answers/quick-vocabulary.ts';
import { readText } from '../../../src/conversation/answers/text.ts';
import { readQuickText } from '../../../src/conversation/quick-text.ts';
import { runs } from '../../support/runs.ts';

const vocabulary = JSON.parse(
  readFileSync(new URL('../../../locales/en/quick.json', import.meta.url), 'utf8'),
) as QuickVocabulary;
const options: readonly ShownOption[] = [
  { reply: '1', id: 'a', words: ['constructor'] },
  { reply: '21', id: 'b', words: ['to string'] },
  { reply: '0', id: 'none', words: ['none'] },
];
const today = { year: 2030, month: 3, day: 12 };
const rule = { sides: vocabulary.sides, maxNodules: 4, sideRequired: false };

const readers: Readonly<Record<string, (text: string) => unknown>> = {
  choice: (text) => readChoice(text, options),
  choices: (text) => readChoices(text, options, ['and']),
  code: (text) => readCode(text, () => ({ ok: false, reason: 'bad-code-length' })),
  confirmation: (text) => readConfirmation(text),
  date: (text) => readDate(text, { today, months: { mar: 3 }, dayWords: { today: 0 }, minDays: -10, maxDays: 10 }),
  diameters: (text) => readDiameters(text, rule),
  number: (text) => readNumber(text, { min: 0, max: 10, decimals: 1 }),
  patient: (text) => readPatient(text, vocabulary.patient, 2030),
  'per slide': (text) => readPerSlide(text, 4, options),
  text: (text) => readText(text, 300),
  'quick text': (text) => readQuickText(text, vocabulary, 2030),
};

const fragment = fc.constantFrom(
  ...['R', 'L', 'M', 'F', 'P20', 'AK', '1982', '22', '22x15x14', '2.2', 'cm', 'mm', 'x', '-', ',', '.', '?', '0', '9'],
  ...['no', 'none', 'solid', 'solid part', 'micro', 'signs', 'TSH', 'normal', 'felt', 'YES', '4718', 'MAR', '/', '\n'],
  ...['constructor', '__proto__', 'toString', '👍', '\u202e', '\ud83d', 'ሰላም', '½', '٢٢', '\u0000', '1/3', 'or'],
);
const hostile = fc.oneof(
  fc.string({ unit: 'binary', maxLength: 400 }),
  fc.array(fragment, { maxLength: 60 }).map((parts) => parts.join(' ')),
  fc.array(fragment, { maxLength: 60 }).map((parts) => parts.join('')),
);

describe.each(Object.entries(readers))('the reader of %s', (_kind, reader) => {
  it('never throws, whatever is sent', () => {
    fc.assert(
      fc.property(hostile, (text) => {
        reader(text);
      }),
      { seed: 48, numRuns: runs(600, 20_000) },
    );
  });

  it.each([
    ['10,000 digits', '1'.repeat(10_000)],
    ['10,000 letters', 'x'.repeat(10_000)],
    ['10,000 spaces', ' '.repeat(10_000)],
    ['1,500 signs without a space', '1x'.repeat(750)],
    ['1,500 question marks', '?'.repeat(1500)],
    ['1,500 points', 'A.'.repeat(750)],
    ['300 times one word', 'hard '.repeat(300)],
    ['300 denials', 'no '.repeat(300)],
  ])('answers %s within two seconds, on a busy machine too', (_what, text) => {
    const from = performance.now();
    reader(text);
    expect(performance.now() - from).toBeLessThan(2000);
  });
});
