import { describe, expect, it } from 'vitest';
import { parseResult } from '../../../src/clinical/cytology/parse.ts';
import { toAsciiDigits } from '../../../src/text/digits.ts';

describe('reading a result', () => {
  it.each([
    ['Thy4 papillary', 'Thy4', 'Thy4', 'papillary'],
    ['thy 3 f', 'thy 3 f', 'Thy3f', ''],
    ['THY3(a) scanty', 'THY3(a)', 'Thy3a', 'scanty'],
    ['Thy-5, medullary?', 'Thy-5', 'Thy5', 'medullary?'],
    ['Thy٤', 'Thy4', 'Thy4', ''],
    ['result: Thy2 colloid', 'Thy2', 'Thy2', 'colloid'],
    ['Bethesda 4', 'Bethesda 4', 'Bethesda IV', ''],
    ['beth. cat. iv FN', 'beth. cat. iv', 'Bethesda IV', 'FN'],
    ['BVI', 'BVI', 'Bethesda VI', ''],
    ['tir 3 b', 'tir 3 b', 'TIR3B', ''],
    ['3a', '3a', 'Thy3a', ''],
    ['1c macrophages', '1c', 'Thy1c', 'macrophages'],
    ['Thy4, 3 slides seen', 'Thy4', 'Thy4', '3 slides seen'],
    ['Thy4 a papillary pattern', 'Thy4', 'Thy4', 'a papillary pattern'],
    ['Thy3f (Bethesda IV)', 'Thy3f', 'Thy3f', '(Bethesda IV)'],
    ['Bethesda II = Thy2c', 'Bethesda II', 'Bethesda II', 'Thy2c'],
  ])('%s: code %s', (text, said, code, words) => {
    expect(parseResult(toAsciiDigits(text))).toMatchObject({ ok: true, said, code, words });
  });

  it.each([
    ['Thy3 a few cells', 'letter-unclear'],
    ['Thy1 c/w cyst', 'letter-unclear'],
    ['3 a', 'bare-number'],
    ['4', 'bare-number'],
    ['6 papillary', 'bare-number'],
    ['IV', 'bare-roman'],
    ['vi', 'bare-roman'],
    ['Thy IV', 'bare-roman'],
    ['3b', 'letter-unclear'],
    ['Thy4/5 suspicious', 'two-codes'],
    ['Thy4 or 5 papillary', 'two-codes'],
    ['Thy4-5', 'two-codes'],
    ['Thy 4 5', 'two-codes'],
    ['Thy4.5', 'two-codes'],
    ['Thy4, 5', 'two-codes'],
    ['Thy3a/f', 'two-codes'],
    ['Thy3a or f', 'two-codes'],
    ['Bethesda III/IV', 'two-codes'],
    ['Thy4 Bethesda IV', 'two-codes'],
    ['Thy4 not Thy5', 'two-codes'],
    ['Thy4 B6', 'two-codes'],
    ['Thy0', 'no-such-code'],
    ['Thy45', 'no-such-code'],
    ['Thy5c', 'no-such-code'],
    ['Bethesda 7', 'no-such-code'],
    ['Bethesda 3a', 'no-such-code'],
    ['TIR3C', 'no-such-code'],
    ['7', 'no-such-code'],
    ['benign', 'unreadable'],
    ['not Thy4', 'unreadable'],
    ['biopsy', 'unreadable'],
    ['', 'unreadable'],
  ])('%s is never guessed: %s', (text, ask) => {
    expect(parseResult(text)).toMatchObject({ ok: false, ask });
  });

  it.each([
    ['3b', 'tir', 'TIR3B'],
    ['3a', 'tir', 'TIR3A'],
    ['3f', 'thy', 'Thy3f'],
  ] as const)('%s from a laboratory that uses %s is %s', (text, usual, code) => {
    expect(parseResult(text, usual)).toMatchObject({ ok: true, code });
  });

  it('a bare number is asked back even from a laboratory whose system is known', () => {
    for (const usual of ['thy', 'bethesda', 'tir'] as const) {
      expect(parseResult('4', usual)).toMatchObject({ ok: false, ask: 'bare-number' });
    }
  });

  it('a letter of another system than the usual one is asked back', () => {
    expect(parseResult('3a', 'bethesda')).toMatchObject({ ok: false, options: ['Thy3a', 'TIR3A'] });
    expect(parseResult('3f', 'tir')).toMatchObject({ ok: false, options: ['Thy3f'] });
  });
});
