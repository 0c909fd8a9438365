import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { dropAccentsOutsideGsm7, foldToGsm7, isGsm7, septetsOf } from '../../src/text/gsm7.ts';

describe('the GSM 7 bit alphabet', () => {
  it.each([
    ['plain English', 'AK: TSH? 1 normal 2 low', true],
    ['Spanish letters it has', '¿señal?', true],
    ['an accent it lacks', 'nódulo', false],
    ['the small c with cedilla', 'ç', false],
    ['the capital one', 'Ç', true],
    ['the euro sign and brackets', '[{€}]', true],
    ['the backtick', '`', false],
    ['the escape itself', '\u001b', false],
    ['Amharic', 'ሰላም', false],
    ['emoji', '👍', false],
    ['nothing', '', true],
  ])('knows %s', (_what, text, expected) => {
    expect(isGsm7(text)).toBe(expected);
  });

  it('counts two septets for the extension table', () => {
    expect([...'^{}\\[~]|€\f'].map(septetsOf)).toEqual(Array(10).fill(2));
    expect(septetsOf('a')).toBe(1);
    expect(septetsOf('ሰ')).toBeNull();
  });
});

describe('folding to GSM 7 bit', () => {
  it.each([
    ['“Right?” – ‘yes’…', '"Right?" - \'yes\'...'],
    ['22×15×14\u00a0mm', '22x15x14 mm'],
    ['a\u200bb\ufeff', 'ab'],
    ['e\u0301', 'é'],
    ['one\r\ntwo', 'one\ntwo'],
    ['size ≥ 10', 'size >= 10'],
  ])('writes %j as %j', (text, expected) => {
    expect(foldToGsm7(text)).toBe(expected);
  });

  it('leaves a text alone that needs UCS-2 anyhow, with its joiners', () => {
    expect(foldToGsm7('می\u200cخواهم “x”')).toBe('می\u200cخواهم “x”');
  });

  it('never changes a letter', () => {
    expect(foldToGsm7('nódulo')).toBe('nódulo');
  });

  it('changes nothing the second time, whatever the text', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'binary' }), (text) => {
        const once = foldToGsm7(text);
        expect(foldToGsm7(once)).toBe(once);
      }),
      { seed: 12 },
    );
  });

  it('drops only the accents that GSM 7 bit lacks where a language asks for it', () => {
    expect(dropAccentsOutsideGsm7('nódulo sólido, señal, está, não, français, été')).toBe(
      'nodulo solido, señal, esta, nao, francais, été',
    );
    expect(dropAccentsOutsideGsm7('ሰላም')).toBe('ሰላም');
  });
});
