import { describe, expect, it } from 'vitest';
import { quoteOf } from '../../../src/conversation/matters/confirm.ts';
import { isResult, resultLines } from '../../../src/conversation/matters/laboratory.ts';
import { answered, caseOf, opened } from '../../support/case-fixture.ts';

describe('results in a text of the laboratory', () => {
  it.each([
    ['48291354 Thy4 papillary', [['48291354', 'Thy4 papillary']]],
    ['4829 1354 3a', [['48291354', '3a']]],
    ['48291354: Thy4', [['48291354', 'Thy4']]],
    ['Thy4 for 48291354', [['48291354', 'Thy4']]],
    [
      '48291354 Thy2\n55512325 Thy4',
      [
        ['48291354', 'Thy2'],
        ['55512325', 'Thy4'],
      ],
    ],
    [
      '48291354 Thy2, 55512325 Thy4',
      [
        ['48291354', 'Thy2'],
        ['55512325', 'Thy4'],
      ],
    ],
    ['48291354 Thy2; plenty of colloid', [['48291354', 'Thy2; plenty of colloid']]],
    ['48291354\nThy4\nmany cells', [['48291354', 'Thy4 many cells']]],
    ['٤٨٢٩١٣٥٤ Thy4', [['48291354', 'Thy4']]],
    ['48291345 Thy4', [[null, 'Thy4']]],
    ['48291354', [['48291354', '']]],
    ['good morning', []],
  ])('%j', (text, expected) => {
    expect(resultLines(text).map((line) => [line.code, line.words])).toEqual(expected);
  });

  it.each([
    ['48291354 Thy4', true],
    ['48291345 Thy4', true],
    ['48291354', false],
    ['2', false],
    ['few cells', false],
  ])('is %j taken as a result while a question is open: %s', (text, expected) => {
    expect(isResult(text)).toBe(expected);
  });
});

describe('what a YES must quote from the slide', () => {
  it('the birth year where it is known', () => {
    expect(quoteOf(caseOf(opened))).toBe('1982');
  });

  it('the initials where only an age is known', () => {
    const events = opened.filter((event) => event.type !== 'answered' || event.field !== 'patient.birthYear');
    expect(quoteOf(caseOf([...events, answered('patient.ageYears', 48)]))).toBe('AK');
  });
});
