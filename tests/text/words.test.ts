import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { toAsciiDigits } from '../../src/text/digits.ts';
import { foldWord, visible } from '../../src/text/fold.ts';
import { runs } from '../support/runs.ts';

describe('digits of other scripts', () => {
  it.each([
    ['Arabic-Indic', '٤٨٢٩', '4829'],
    ['Persian', '۱۳۵۴', '1354'],
    ['Devanagari', '२२x१५', '22x15'],
    ['Bengali', '০৯', '09'],
    ['Myanmar', '၁၂', '12'],
    ['fullwidth', '９０', '90'],
    ['mathematical', '𝟘𝟡𝟎', '090'],
    ['ASCII', '0123456789', '0123456789'],
  ])('are read: %s', (_script, text, expected) => {
    expect(toAsciiDigits(text)).toBe(expected);
  });

  it('leave signs alone that only look like digits, so that a half is no two digits', () => {
    expect(toAsciiDigits('22½ x² ①')).toBe('22½ x² ①');
  });

  it('are counted from zero to nine in every run of ten that Unicode has', () => {
    const digits: string[] = [];
    for (let code = 0; code < 0x110000; code += 1) {
      if (code >= 0xd800 && code < 0xe000) continue;
      const character = String.fromCodePoint(code);
      if (/^\p{Nd}$/u.test(character)) digits.push(character);
    }
    expect(digits.length % 10).toBe(0);
    expect(toAsciiDigits(digits.join(''))).toBe('0123456789'.repeat(digits.length / 10));
  });
});

describe('folding words', () => {
  it.each([
    ['SÍ', 'si'],
    ['Ñandú', 'nandu'],
    ['ÉTÉ', 'ete'],
    ['İstanbul', 'istanbul'],
    ['Straße', 'strasse'],
    ['ＹＥＳ', 'yes'],
    ['نَعَم', 'نعم'],
    ['  not   felt ', 'not felt'],
    ['1\ufe0f\u20e3', '1'],
    ['\u200fنعم\u200f', 'نعم'],
    ['हाँ', 'हाँ'],
    // Letters that keyboards put in each other's place: measured on words of the trade.
    ['حقنة', 'حقنه'],
    ['على', 'علي'],
    ['یدی', 'يدي'],
    ['کتلة', 'كتله'],
    ['n’arrive', "n'arrive"],
    ['ng`ombe', "ng'ombe"],
  ])('folds %j to %j', (text, expected) => {
    expect(foldWord(text)).toBe(expected);
  });

  it('keeps vowel signs that are letters of a word', () => {
    expect(foldWord('की')).not.toBe(foldWord('का'));
  });

  it('changes nothing the second time, whatever the text', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'binary' }), (text) => {
        expect(foldWord(foldWord(text))).toBe(foldWord(text));
      }),
      { seed: 5, numRuns: runs(1000, 50_000) },
    );
  });

  it('leaves no sign that shows nothing', () => {
    expect(visible('\u202eAK\u202c\u0000 1\u200d')).toBe('AK 1');
  });
});
