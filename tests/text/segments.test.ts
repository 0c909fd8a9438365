import { createRequire } from 'node:module';
import fc from 'fast-check';
import { SegmentedMessage } from 'sms-segments-calculator';
import { describe, expect, it } from 'vitest';
import { countSegments, userDataOctets } from '../../src/text/segments.ts';
import { runs } from '../support/runs.ts';

interface SplitSms {
  split(text: string): { characterSet: 'GSM' | 'Unicode'; parts: readonly unknown[] };
}
const splitSms = createRequire(import.meta.url)('split-sms') as SplitSms;

const seed = 2030;
const gsmUnit = fc.constantFrom(...'aZ0 @£é\n^{}[]~|\\€Δ');
const ucsUnit = fc.oneof(fc.constantFrom(...'aé^ሰمдä語हிกע٣'), fc.constantFrom('👍', '𐍈', '🩺'));
/** Emoji just where a part ends. */
const atBorder = fc
  .tuple(
    fc.constantFrom(33, 66, 67, 68, 69, 70, 133, 134, 135, 200, 201),
    fc.integer({ min: -3, max: 3 }),
    fc.string({ unit: ucsUnit, maxLength: 70 }),
  )
  .map(([place, off, rest]) => `${'ሰ'.repeat(place + off)}👍${rest}`);
/** Texts around the sizes where the count changes. */
const around = (unit: fc.Arbitrary<string>) => fc.string({ unit, minLength: 0, maxLength: 480 });

describe('counting segments', () => {
  it.each([
    ['the empty text', '', 'GSM-7', 0, 1],
    ['160 letters', 'a'.repeat(160), 'GSM-7', 160, 1],
    ['161 letters', 'a'.repeat(161), 'GSM-7', 161, 2],
    ['306 letters', 'a'.repeat(306), 'GSM-7', 306, 2],
    ['307 letters', 'a'.repeat(307), 'GSM-7', 307, 3],
    ['80 brackets', '['.repeat(80), 'GSM-7', 160, 1],
    ['81 brackets: 76 fit a part, since a pair is not cut', '['.repeat(81), 'GSM-7', 162, 2],
    ['153 brackets', '['.repeat(153), 'GSM-7', 306, 3],
    ['70 Amharic letters', 'ሰ'.repeat(70), 'UCS-2', 70, 1],
    ['71 Amharic letters', 'ሰ'.repeat(71), 'UCS-2', 71, 2],
    ['135 Amharic letters', 'ሰ'.repeat(135), 'UCS-2', 135, 3],
    ['35 emoji', '👍'.repeat(35), 'UCS-2', 70, 1],
    ['67 emoji: 33 fit a part, since a pair is not cut', '👍'.repeat(67), 'UCS-2', 134, 3],
    ['one curly quote among letters', `${'a'.repeat(70)}’`, 'UCS-2', 71, 2],
  ] as const)('of %s', (_what, text, encoding, units, segments) => {
    expect(countSegments(text)).toEqual({ encoding, units, segments });
  });

  it('agrees with split-sms on texts of both encodings', () => {
    fc.assert(
      fc.property(fc.oneof(around(gsmUnit), around(ucsUnit), atBorder), (text) => {
        const theirs = splitSms.split(text);
        const ours = countSegments(text);
        expect(ours.encoding).toBe(theirs.characterSet === 'GSM' ? 'GSM-7' : 'UCS-2');
        expect(ours.segments).toBe(theirs.parts.length);
      }),
      { seed, numRuns: runs(2_000, 50_000) },
    );
  });

  it('agrees with sms-segments-calculator on texts of both encodings', () => {
    fc.assert(
      fc.property(fc.oneof(around(gsmUnit), around(ucsUnit), atBorder), (text) => {
        const theirs = new SegmentedMessage(text);
        const ours = countSegments(text);
        expect(ours.encoding).toBe(theirs.encodingName);
        expect(ours.segments).toBe(Math.max(1, theirs.segmentsCount));
      }),
      { seed, numRuns: runs(2_000, 50_000) },
    );
  });

  it('counts units and not whole emoji where sms-segments-calculator keeps a joined emoji together', () => {
    const family = '👨‍👩‍👧‍👦';
    const text = `${'a'.repeat(60)}${family}b`;
    expect(countSegments(text)).toEqual({ encoding: 'UCS-2', units: 72, segments: 2 });
    // 11 units do not fit behind 59 in their part of 67: there the emoji moves to the next part as a whole.
    const long = `${'a'.repeat(59)}${family}${'b'.repeat(64)}`;
    expect(countSegments(long).segments).toBe(2);
    expect(new SegmentedMessage(long).segmentsCount).toBe(3);
  });

  it('counts half of a broken pair as one unit where split-sms takes the next character for the other half', () => {
    const broken = `${'a'.repeat(66)}\ud83d${'a'.repeat(67)}`;
    expect(countSegments(broken)).toEqual({ encoding: 'UCS-2', units: 134, segments: 2 });
    expect(splitSms.split(broken).parts).toHaveLength(3);
  });
});

describe('octets of user data', () => {
  // By hand: 3GPP TS 23.038, section 6.1.2.1 (septets packed), and 3GPP TS 23.040, section 9.2.3.24.1 (a header of 6
  // octets, 7 septets long with its filling).
  it.each([
    ['nothing', '', 0],
    ['hello: 5 septets are 35 bits', 'hello', 5],
    ['8 septets are 56 bits', 'a'.repeat(8), 7],
    ['9 septets are 63 bits', 'a'.repeat(9), 8],
    ['a euro sign takes two septets', '€', 2],
    ['160 septets fill a message', 'a'.repeat(160), 140],
    ['161 in two: 7 + 153 septets are 140 octets, 7 + 8 are 105 bits, 14 octets', 'a'.repeat(161), 154],
    ['306 in two full parts', 'a'.repeat(306), 280],
    [
      '81 brackets: 76 in the first, 7 + 152 septets are 140 octets, 5 in the second, 7 + 10 are 15',
      '['.repeat(81),
      155,
    ],
    ['70 Amharic letters fill a message', 'ሰ'.repeat(70), 140],
    ['71 in two: 6 + 134 and 6 + 8', 'ሰ'.repeat(71), 154],
    ['an emoji that does not fit behind 66: 6 + 132 and 6 + 4 + 8', `${'ሰ'.repeat(66)}👍${'ሰ'.repeat(4)}`, 156],
  ])('%s', (_what, text, octets) => {
    expect(userDataOctets(text)).toBe(octets);
  });
});
