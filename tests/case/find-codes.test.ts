import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { findCodes, formatCode, makeCode } from '../../src/case/code.ts';
import { runs } from '../support/runs.ts';

const codes = (text: string): (string | null)[] => findCodes(text).map((one) => one.code);

describe('codes in a text', () => {
  it.each([
    ['48291354', ['48291354']],
    ['4829 1354', ['48291354']],
    ['GOT 4829-1354 4', ['48291354']],
    ['48291354 4', ['48291354']],
    ['48291354 12', ['48291354']],
    ['48291354 3a', ['48291354']],
    ['48291354 2 55512325 2', ['48291354', '55512325']],
    ['48291354 55512325', ['48291354', '55512325']],
    ['4829 1354, 5551 2325', ['48291354', '55512325']],
    ['48 29 13 54', ['48291354']],
    ['4829 1345', [null]],
    ['48291345 4', [null]],
    ['R 22x15x14', []],
    ['YES 4718 198', []],
    ['', []],
  ])('%s', (text, expected) => {
    expect(codes(text)).toEqual(expected);
  });

  it('finds every code among counts and words, wherever it stands', () => {
    const payload = fc.integer({ min: 100_000, max: 999_999 });
    const written = fc.tuple(payload, fc.boolean(), fc.constantFrom('', ' 4', ' Thy3a', ' 12 slides'));
    fc.assert(
      fc.property(fc.array(written, { minLength: 1, maxLength: 4 }), (parts) => {
        const text = parts.map(([number, spaced, rest]) => {
          const code = makeCode(String(number));
          return `${spaced ? formatCode(code) : code}${rest}`;
        });
        expect(codes(text.join(', '))).toEqual(parts.map(([number]) => makeCode(String(number))));
      }),
      { seed: 20300312, numRuns: runs(300, 10_000) },
    );
  });
});
