import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { countSegments } from '../../src/text/segments.ts';
import { splitIntoSegments } from '../../src/text/split.ts';

const sentence = (letter: string, length: number): string => `${letter.repeat(length - 1)}.`;

describe('splitting for networks that cannot join parts', () => {
  it('leaves a text of one segment whole and unnumbered', () => {
    expect(splitIntoSegments('AK: TSH? 1 normal', { numbered: true })).toEqual(['AK: TSH? 1 normal']);
    expect(splitIntoSegments('  \n ', { numbered: true })).toEqual([]);
  });

  it('cuts at line ends before sentence ends', () => {
    const lines = [sentence('a', 60), `${sentence('b', 50)} ${sentence('c', 50)}`, sentence('d', 50)];
    expect(splitIntoSegments(lines.join('\n'), { numbered: false })).toEqual([lines[0], `${lines[1]}\n${lines[2]}`]);
  });

  it('cuts a long line at a sentence end', () => {
    const text = `${sentence('a', 100)} ${sentence('b', 40)} ${sentence('c', 100)}`;
    expect(splitIntoSegments(text, { numbered: false })).toEqual([
      `${sentence('a', 100)} ${sentence('b', 40)}`,
      sentence('c', 100),
    ]);
  });

  it('cuts a long sentence at a space and a long word between characters', () => {
    expect(splitIntoSegments(`${'a'.repeat(150)} ${'b'.repeat(150)}`, { numbered: false })).toEqual([
      'a'.repeat(150),
      'b'.repeat(150),
    ]);
    expect(splitIntoSegments('👍'.repeat(40), { numbered: false })).toEqual(['👍'.repeat(35), '👍'.repeat(5)]);
  });

  it('numbers the parts and keeps room for the number', () => {
    const parts = splitIntoSegments('a'.repeat(320), { numbered: true });
    expect(parts.map((part) => part.slice(0, 4))).toEqual(['1/3 ', '2/3 ', '3/3 ']);
  });

  it('keeps every visible character in order, one segment a part, whatever the text', () => {
    const unit = fc.constantFrom(...'ab c.\n?^€ሰ', '👍');
    fc.assert(
      fc.property(fc.string({ unit, maxLength: 1500 }), fc.boolean(), (text, numbered) => {
        const parts = splitIntoSegments(text, { numbered });
        for (const part of parts) expect(countSegments(part).segments).toBe(1);
        const bare = parts.length > 1 && numbered ? parts.map((part) => part.replace(/^\d+\/\d+ /, '')) : parts;
        expect(bare.join('').replace(/\s/gu, '')).toBe(text.replace(/\s/gu, ''));
      }),
      { seed: 31 },
    );
  });
});
