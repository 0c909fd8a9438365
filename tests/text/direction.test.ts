/** Texts that are written from right to left, as phones draw them. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { withPointedCodes } from '../../src/case/code.ts';
import { drawnRightToLeft, isRightToLeft } from '../../src/text/direction.ts';
import { drawn } from '../support/drawn.ts';
import { shipped } from '../support/shipped.ts';

/** As the line sends it. */
const sent = (text: string): string => drawnRightToLeft(withPointedCodes(text));

describe('figures behind Arabic letters', () => {
  it.each(['4829-1354', '5-10', '22×15×14', '22*15*14', '2030-03-04', '+255 712 345'])(
    '%s is turned round by a phone, and is not as the line sends it',
    (figures) => {
      expect(drawn(`الرقم ${figures}`)).not.toContain(figures);
      expect(drawn(drawnRightToLeft(`الرقم ${figures}`)).replaceAll('\u00a0', ' ')).toContain(figures);
    },
  );

  it.each([
    '0712 345 678',
    '0712 34 56 78',
    '1 3 5',
    '47 1',
    '4718 1982',
    '٤٨٢٩ ١٣٥٤',
    '٠٧١٢ ٣٤٥ ٦٧٨',
    '+255 12 34 56',
  ])(
    '%s, in groups that a space parts, is turned round too, and as the line sends it by no phone, at the cost of no sign',
    (figures) => {
      const groups = figures.replaceAll(' ', '\u00a0');
      for (const text of [`الرقم ${figures}`, `الاتصال على ${figures} الآن`, `AK48: الاتصال على ${figures}.`]) {
        expect(drawn(text, 'rtl')).not.toContain(figures);
        for (const base of ['rtl', undefined] as const) expect(drawn(sent(text), base)).toContain(groups);
        expect(sent(sent(text))).toBe(sent(text));
        expect(sent(text).replace(/[\u200e\u200f]/gu, '')).toHaveLength(text.length);
      }
    },
  );

  it('digits in groups alone on a line are kept where the phone forces the direction, and a text of a Latin phone stays one', () => {
    const text = 'الاتصال على:\n0712 345 678';
    expect(drawn(text, 'rtl')).not.toContain('0712 345 678');
    expect(drawn(sent(text), 'rtl')).toContain('0712\u00a0345\u00a0678');
    expect(sent('0712 345 678')).toBe('0712 345 678');
  });

  it('the no-break space keeps groups by itself, so nothing is added to it', () => {
    const text = 'الرقم 0712\u00a0345\u00a0678';
    expect(drawn(text)).toContain('0712\u00a0345\u00a0678');
    expect(sent(text)).toBe(text);
  });

  it.each(['48291354', '4829.1354', '4/3/2030', '1/4', '11:00', '22x15x14', '1357H'])(
    '%s is drawn in its order, so nothing is added',
    (figures) => {
      const text = `الرقم ${figures}`;
      expect(drawn(text)).toContain(figures);
      expect(drawnRightToLeft(text)).toBe(text);
    },
  );

  it('a code is drawn in its order, also by phones that force the direction: alone, in a sentence, behind a birth year', () => {
    expect(drawn('الرقم 4829 1354')).not.toContain('4829 1354');
    for (const text of ['4829 1354', 'الرقم:\n4829 1354', 'الرقم 4829 1354 على الزجاج', 'AK F 1982 4829 1354: الرقم']) {
      expect(drawn(sent(text), 'rtl')).toContain('4829.1354');
      expect(drawn(sent(text))).toContain('4829.1354');
    }
    expect(sent('AK F 1982 4829 1354')).toBe('AK F 1982 4829.1354');
    expect(sent('الحالة 1982 4829 1354 48291354')).toBe('الحالة 1982 4829.1354 48291354');
  });

  it('the year to be filled in stays behind the four digits that the laboratory sends back', () => {
    const text = shipped.texts.render('ar', 'laboratory.quote-year', (name) => (name === 'challenge' ? '4718' : ''));
    for (const base of ['rtl', undefined] as const) expect(drawn(sent(text), base)).toContain('4718 19__');
  });

  it('a day and its hour are two things, read one after the other', () => {
    for (const text of ['يوم 8/3 12:00', 'يوم 7/3. 3 نعم', 'مثال: 12. 1 يمين', 'AK48 1 يمين', 'كتلة 22x15x14 1 يمين']) {
      expect(sent(text).replaceAll('\u200f', '')).toBe(text);
    }
  });

  it('any range, size and number to dial stands in the order in which it was said', () => {
    const word = fc.constantFrom('الإبرة', 'الشريحة', 'الآن', 'AK48:', 'Q72');
    const numbers = fc.array(fc.integer({ min: 100, max: 99_999 }), { minLength: 2, maxLength: 4 });
    const run = fc.oneof(
      fc.tuple(numbers, fc.constantFrom('-', '*', ' ')).map(([all, between]) => all.join(between)),
      numbers.map((all) => `+${all.join(' ')}`),
    );
    fc.assert(
      fc.property(fc.array(word, { minLength: 1, maxLength: 4 }), run, word, (before, figures, after) => {
        const text = drawnRightToLeft(`${before.join(' ')} نعم ${figures} ${after}`);
        expect(drawn(text).replaceAll('\u00a0', ' ')).toContain(figures);
        expect(drawnRightToLeft(text)).toBe(text);
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

  it('has each number of an answer beside its words, behind Latin letters and figures too', () => {
    const reversed = (words: string) => [...words].reverse().join('');
    for (const before of ['AK48:', 'Velin Hospital', '12.']) {
      const text = drawn(drawnRightToLeft(`الآن ${before} 1 يمين 2 يسار`));
      expect(text).toContain(`${reversed('يسار')} 2 ${reversed('يمين')} 1 `);
    }
    expect(drawn('الآن AK48: 1 يمين')).not.toContain(`${reversed('يمين')} 1 `);
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
