import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { checkCode, drawPayload, formatCode, makeCode } from '../../src/case/code.ts';
import { runs } from '../support/runs.ts';

const SEED = 20300304;
const codes = fc
  .oneof(fc.integer({ min: 100_000, max: 999_999 }), fc.integer({ min: 10_000_000, max: 99_999_999 }))
  .map((payload) => makeCode(String(payload)));

describe('case code', () => {
  it.each(['12 34-56.76', ' 1234 5676 ', '1234–5676', '１２３４５６７６', '١٢٣٤٥٦٧٦', '१२३४ ५६७६'])(
    '%s is typed well enough',
    (typed) => {
      expect(checkCode(typed)).toEqual({ ok: true, code: '12345676' });
    },
  );

  it.each([
    ['1234567', 'length'],
    ['123456760', 'length'],
    ['', 'length'],
    ['02645676', 'leading-zero'],
  ])('%s is refused for its %s', (typed, reason) => {
    expect(checkCode(typed)).toEqual({ ok: false, reason });
  });

  it.each([
    ['I2345676', 'I'],
    ['1234S676', 'S'],
    ['1OOOOO22', 'OOOOO'],
  ])('%s: letters are pointed at, never corrected', (typed, letters) => {
    expect(checkCode(typed)).toEqual({ ok: false, reason: 'not-digits', letters });
  });

  it('every wrong digit is refused', () => {
    fc.assert(
      fc.property(codes, fc.nat(9), fc.integer({ min: 1, max: 9 }), (code, place, shift) => {
        const at = place % code.length;
        const wrong = code.slice(0, at) + ((Number(code[at]) + shift) % 10) + code.slice(at + 1);
        expect(checkCode(wrong).ok).toBe(false);
      }),
      { seed: SEED, numRuns: runs(1000, 100_000) },
    );
  });

  it('every swapped pair of different digits is refused, neighbours or not', () => {
    fc.assert(
      fc.property(codes, fc.nat(9), fc.nat(9), (code, one, other) => {
        const digits = [...code];
        const [a, b] = [one % code.length, other % code.length];
        fc.pre(digits[a] !== digits[b]);
        [digits[a], digits[b]] = [digits[b]!, digits[a]!];
        expect(checkCode(digits.join('')).ok).toBe(false);
      }),
      { seed: SEED, numRuns: runs(1000, 100_000) },
    );
  });

  it('a code that was made is always read again, also as it is printed', () => {
    fc.assert(
      fc.property(codes, (code) => {
        expect(checkCode(formatCode(code))).toEqual({ ok: true, code });
      }),
      { seed: SEED },
    );
  });

  it('is printed in groups of four', () => {
    expect(formatCode('48291354')).toBe('4829 1354');
    expect(formatCode(makeCode('48291354'))).toMatch(/^4829 1354 \d\d$/);
  });

  it('the code of the examples is valid', () => {
    expect(checkCode('48291354').ok).toBe(true);
  });

  it.each(['012345', '12345', '1234567', 'abcdef'])('%s makes no code', (payload) => {
    expect(() => makeCode(payload)).toThrow();
  });

  it('random bytes give the whole range and never a leading zero', () => {
    expect(drawPayload(new Uint8Array(8), 6)).toBe('100000');
    expect(drawPayload(Uint8Array.of(0, 0, 0, 0, 0, 0x0d, 0xbb, 0x9f), 6)).toBe('999999');
    fc.assert(
      fc.property(
        fc.uint8Array({ minLength: 8, maxLength: 16 }),
        fc.constantFrom(6 as const, 8 as const),
        (bytes, digits) => {
          expect(drawPayload(bytes, digits)).toMatch(digits === 6 ? /^[1-9]\d{5}$/ : /^[1-9]\d{7}$/);
        },
      ),
      { seed: SEED },
    );
    expect(() => drawPayload(new Uint8Array(7), 6)).toThrow();
  });
});
