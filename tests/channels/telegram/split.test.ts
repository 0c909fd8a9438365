import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { splitText } from '../../../src/channels/telegram/split.ts';

describe('a text too long for one message', () => {
  it.each([
    ['short', 10, ['short']],
    ['one\ntwo three\nfour', 10, ['one', 'two three', 'four']],
    ['one two three', 8, ['one two', 'three']],
    ['abcdefgh', 3, ['abc', 'def', 'gh']],
    ['', 10, []],
  ] as const)('%j in %i', (text, most, parts) => {
    expect(splitText(text, most)).toEqual(parts);
  });

  it('loses nothing but white space, keeps the order, and cuts no pair of surrogates', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'grapheme', maxLength: 200 }), fc.integer({ min: 2, max: 40 }), (text, most) => {
        const parts = splitText(text, most);
        expect(parts.every((part) => part.length <= most)).toBe(true);
        expect(parts.join('').replace(/\s/gu, '')).toBe(text.replace(/\s/gu, ''));
        expect(parts.every((part) => !/^[\udc00-\udfff]/.test(part))).toBe(true);
      }),
      { seed: 7 },
    );
  });
});
