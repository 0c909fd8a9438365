/**
 * How a phone draws a text that is written from right to left: bidi-js, a general implementation of the Unicode Bidirectional
 * Algorithm (UAX #9), says in which order the signs stand on the screen.
 */
import bidiFactory, { type Bidi } from 'bidi-js';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { drawnRightToLeft, isRightToLeft } from '../../src/text/direction.ts';

/** Its types describe another form of the module. */
const bidi = (bidiFactory as unknown as () => Bidi)();

/** What stands on the screen from left to right, without the marks that show nothing. */
function drawn(text: string, base?: 'rtl'): string {
  const lines = text.split('\n').map((line) => bidi.getReorderedString(line, bidi.getEmbeddingLevels(line, base)));
  return lines.join('\n').replace(/[\u200e\u200f]/gu, '');
}

describe('figures behind Arabic letters', () => {
  it.each(['4829 1354', '4829-1354', '5-10', '22×15×14', '22*15*14', '2030-03-04', '+255 712 345'])(
    '%s is turned round by a phone, and is not as the line sends it',
    (figures) => {
      expect(drawn(`الرقم ${figures}`)).not.toContain(figures);
      const sent = drawn(drawnRightToLeft(`الرقم ${figures}`));
      expect(sent).toContain(figures === '4829 1354' ? '4829.1354' : figures);
    },
  );

  it.each(['48291354', '4829.1354', '4/3/2030', '1/4', '11:00', '22x15x14', '1357H'])(
    '%s is drawn in its order, so nothing is added',
    (figures) => {
      const text = `الرقم ${figures}`;
      expect(drawn(text)).toContain(figures);
      expect(drawnRightToLeft(text)).toBe(text);
    },
  );

  it('a code is drawn in its order by phones that force the direction too, alone on its line and in a sentence', () => {
    for (const text of ['4829 1354', 'الرقم:\n4829 1354', 'الرقم 4829 1354 على الزجاج', 'AK48: الرقم 4829 1354']) {
      expect(drawn(drawnRightToLeft(text), 'rtl')).toContain('4829.1354');
      expect(drawn(drawnRightToLeft(text))).toContain('4829.1354');
    }
    expect(drawnRightToLeft('الرقم 4829 1354 27')).toBe('الرقم 4829.1354.27');
  });

  it('any figures stand in the order in which they were said', () => {
    const word = fc.constantFrom('الإبرة', 'الشريحة', 'الآن', 'AK48:', 'Q72');
    const run = fc
      .tuple(fc.constantFrom('', '+'), fc.array(fc.integer({ min: 1, max: 99_999 }), { minLength: 1, maxLength: 4 }))
      .chain(([sign, all]) => fc.constantFrom(' ', '-', '*').map((between) => sign + all.join(between)));
    fc.assert(
      fc.property(fc.array(word, { minLength: 1, maxLength: 4 }), run, word, (before, figures, after) => {
        const sent = drawnRightToLeft(`${before.join(' ')} نعم ${figures} ${after}`);
        const said = figures.replace(/(?<!\d)(\d{4}) (\d{4})(?: (\d{2}))?(?!\d)/gu, (code) =>
          code.replaceAll(' ', '.'),
        );
        expect(drawn(sent)).toContain(said);
        expect(drawnRightToLeft(sent)).toBe(sent);
      }),
    );
  });
});

describe('a text that begins with a tag', () => {
  it('is laid out from right to left all the same', () => {
    const text = 'AK48: وخز الإبرة الآن 1 نعم 2 لا';
    expect(drawn(text).startsWith('AK48')).toBe(true);
    expect(drawn(drawnRightToLeft(text)).endsWith('AK48')).toBe(true);
    expect(drawnRightToLeft(text)).toHaveLength(text.length + 1);
  });

  it('in Latin letters alone stays as it is', () => {
    for (const text of ['AK48: needle now', 'AK 1982\nTHYROID RIGHT', '5 10'])
      expect(drawnRightToLeft(text)).toBe(text);
  });
});

it('a language is written from right to left whose own name is', () => {
  expect(['العربية', 'עברית', 'فارسی'].map(isRightToLeft)).toEqual([true, true, true]);
  expect(['English', 'Français', 'Kiswahili', ''].map(isRightToLeft)).toEqual([false, false, false, false]);
});
