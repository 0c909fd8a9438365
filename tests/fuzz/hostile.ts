import fc from 'fast-check';
import { afterAll } from 'vitest';

/** Seed of every fuzz run, another with `FUZZ_SEED`; a failure prints it with the path of the failing example. */
export const seed = Number(process.env.FUZZ_SEED ?? 20300304);

const keywords = [
  'NEW',
  'CASE',
  'TAKE',
  'LIST',
  'DOCTOR',
  'SOS',
  'STOCK',
  'REPORT',
  'JOIN',
  'MORE',
  'LOST',
  'HELP',
  '?',
];
const others = [
  'LANGUAGE',
  'BRIEF',
  'PLAIN',
  'GOT',
  'BAD',
  'YES',
  'NO',
  'STOP',
  'START',
  'BACK',
  '*',
  'WRONG',
  'POST',
  'ADD',
  'Q47',
  'RESULT',
];

const traps = [
  ...['{tag}', '{code}', '{{secret}}', '$t(common.stranger)', '%s%n', '{constructor}', '{__proto__}'],
  ...[
    "'; drop table cases; --",
    '" or 1=1',
    '{"role":"doctor"}',
    '[]',
    'null',
    '<script>alert(1)</script>',
    '../../etc',
  ],
  ...['\u0000', '\u0007', '\u001b[31m', '\u202e', '\ud83d', '\ufeff', '\r\n', '\n', '\n\n', '\t', '\u2028'],
  ...['👍', '👩‍⚕️', 'ሰላም', 'سلام', '你好', 'e\u0301', 'İ', 'ß', '½', '٤٨٢٩ ١٣٥٤', '٢٢', '१२', '４７ １', '𝟒𝟕'],
  ...[
    '\nQ47 1',
    '\nFILED 4829 1354',
    '\nAK: RIGHT lump',
    '47 1',
    '10 1',
    '1',
    '11',
    '21',
    '0',
    '9',
    '134',
    '1357H',
    '1111',
    'ALL',
    '4145',
    '50',
    '6666',
    '6 ml 3',
    '10:40',
  ],
  ...['48291354', '4829 1354', '4829-1354', '00000000', '99999999999', '22x15x14', 'R 22x15x14', '-1', '1e309', 'NaN'],
  ...[
    'Thy4',
    'Thy2 papillary',
    'YES 4718 1982',
    'JOIN 123456',
    'worker +000555010042 oruma Eve',
    'AK 1982 F',
    '30 MAR',
  ],
];

/** Runs of the file under test: each is one hostile input, or one conversation of many. */
let given = 0;
const count = (): void => {
  given += 1;
};
fc.configureGlobal({ ...fc.readConfigureGlobal(), beforeEach: count });
afterAll(() => console.log(`fuzz: ${given} hostile inputs, seed ${seed}`));

/** Anything that a phone could send: keywords in every place, traps, other scripts, binary rubbish, very long texts. */
export const hostileText: fc.Arbitrary<string> = fc.oneof(
  {
    weight: 3,
    arbitrary: fc
      .tuple(
        fc.constantFrom(
          'DOCTOR ',
          'CASE 48291354 ',
          'NEW ',
          'BAD 48291354 ',
          '48291354 Thy4 ',
          'ADD worker +000555010042 oruma ',
          '47 ',
        ),
        fc.array(fc.constantFrom(...keywords, ...others, ...traps), { minLength: 1, maxLength: 10 }),
      )
      .map(([word, all]) => word + all.join(' ')),
  },
  {
    weight: 4,
    arbitrary: fc
      .array(fc.constantFrom(...keywords, ...others, ...traps), { minLength: 1, maxLength: 8 })
      .map((all) => all.join(' ')),
  },
  {
    weight: 2,
    arbitrary: fc
      .array(fc.constantFrom(...keywords, ...others, ...traps), { minLength: 1, maxLength: 12 })
      .map((all) => all.join('')),
  },
  { weight: 2, arbitrary: fc.constantFrom(...keywords, ...others, ...traps) },
  { weight: 2, arbitrary: fc.string({ unit: 'binary', maxLength: 200 }) },
  {
    weight: 1,
    arbitrary: fc
      .tuple(fc.constantFrom(...keywords, ...traps), fc.integer({ min: 200, max: 4000 }))
      .map(([one, times]) => one.repeat(times)),
  },
);
