import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { loadContent } from '../../src/content/load.ts';
import { cryIn } from '../../src/conversation/hearing/cry.ts';
import { saysSos } from '../../src/conversation/hearing/sos-spelling.ts';
import { isOneSlip } from '../../src/text/slip.ts';

const { texts } = loadContent();
const english = texts.alarmWords('en');
const words = english[0]!;
const letters = 'abcdefghijklmnopqrstuvwxyz';

/** Words that are what they are: a slip that makes one of them has made another word. */
const usual = new Set([
  ...[words.usual, words.fillers, words.no, words.not].flat(),
  ...[words.now, words.soon, words.alone.now, words.alone.soon, words.lures].flatMap((list) =>
    list.flatMap((one) => one.split(' ')),
  ),
]);

/** One slip in the word: a letter left out, doubled or another, or two neighbours the wrong way round. */
const slip = (word: string) =>
  fc
    .record({
      at: fc.nat(word.length - 1),
      kind: fc.constantFrom('without', 'more', 'other', 'swapped'),
      letter: fc.constantFrom(...letters),
    })
    .map(({ at, kind, letter }) => {
      if (kind === 'without') return word.slice(0, at) + word.slice(at + 1);
      if (kind === 'more') return word.slice(0, at) + letter + word.slice(at);
      if (kind === 'other') return word.slice(0, at) + letter + word.slice(at + 1);
      return word.slice(0, at) + (word[at + 1] ?? '') + word[at]! + word.slice(at + 2);
    });

describe('one slip', () => {
  it('in a word of five letters or more keeps every cry what it is', () => {
    const cries = [
      ...words.now.map((phrase) => [phrase, 'now'] as const),
      ...words.soon.map((phrase) => [phrase, 'soon'] as const),
    ].filter(([phrase, is]) => cryIn(phrase, english) === is && phrase.split(' ').some((one) => one.length >= 5));
    expect(cries.length).toBeGreaterThan(150);
    const slipped = fc.constantFrom(...cries).chain(([phrase, is]) => {
      const parts = phrase.split(' ');
      const long = parts.map((one, at) => [one, at] as const).filter(([one]) => one.length >= 5);
      return fc
        .constantFrom(...long)
        .chain(([one, at]) => slip(one).map((made) => ({ phrase, is, made, text: parts.with(at, made).join(' ') })));
    });
    fc.assert(
      fc.property(slipped, ({ is, made, text }) => {
        fc.pre(!usual.has(made));
        expect(cryIn(text, english)).toBe(is);
      }),
      { numRuns: 3000 },
    );
  });

  it('is one letter, and not two', () => {
    for (const [one, other, is] of [
      ['swelling', 'sweling', true],
      ['swelling', 'swellling', true],
      ['swelling', 'swelking', true],
      ['swelling', 'swleling', true],
      ['swelling', 'swlliing', false],
      ['fainted', 'feinte', false],
      ['', 'a', true],
      ['ab', 'ba', true],
      ['abc', 'cba', false],
    ] as const) {
      expect([one, other, isOneSlip(one, other)]).toEqual([one, other, is]);
      expect(isOneSlip(other, one)).toBe(is);
    }
  });

  it('costs no text more than a moment, however it is made', () => {
    fc.assert(
      fc.property(fc.string({ maxLength: 1600, unit: 'grapheme' }), (text) => {
        const before = performance.now();
        cryIn(text, english);
        saysSos(text);
        expect(performance.now() - before).toBeLessThan(250);
      }),
      { numRuns: 200 },
    );
  });
});
