import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { toAsciiDigits } from '../../src/text/digits.ts';
import { foldWord, visible } from '../../src/text/fold.ts';
import { foldToGsm7 } from '../../src/text/gsm7.ts';
import { wallTimeAt } from '../../src/text/time-words.ts';

/** A sign that shows nothing and goes away: with it a text takes the long way, and comes to the same. */
const nothing = '\u200b';
const ascii = fc.string({
  unit: fc.oneof(fc.constant(' '), fc.constantFrom(...' \n`AZaz09.:!{~'), fc.string({ maxLength: 1 })),
});

describe('a text of plain letters, which is read the short way', () => {
  it('is folded as on the long way', () => {
    fc.assert(
      fc.property(ascii, (text) => {
        expect(foldWord(text)).toBe(foldWord(`${nothing}${text}${nothing}`));
        expect(visible(text)).toBe(visible(`${nothing}${text}${nothing}`));
      }),
    );
  });

  it('is written in GSM 7 bit as on the long way', () => {
    fc.assert(
      fc.property(ascii, (text) => {
        expect(foldToGsm7(text)).toBe(foldToGsm7(`${text}${nothing}`));
      }),
    );
  });

  it('keeps its digits as beside those of another script', () => {
    fc.assert(
      fc.property(ascii, (text) => {
        expect(`${toAsciiDigits(text)}3`).toBe(toAsciiDigits(`${text}٣`));
      }),
    );
  });
});

describe('the time on the wall, remembered by the minute', () => {
  // The reference is Node's own reading of the IANA time zone database, second by second.
  const zones = ['Africa/Nairobi', 'Asia/Kathmandu', 'America/St_Johns', 'Australia/Lord_Howe', 'Europe/Lisbon'];
  it.each(zones)('is that of %s at every second since 1973', (zone) => {
    const reference = new Intl.DateTimeFormat('en-GB', { timeZone: zone, dateStyle: 'short', timeStyle: 'medium' });
    const between = { min: Date.UTC(1973, 0, 1), max: Date.UTC(2037, 11, 31) };
    const two = (value: number): string => String(value).padStart(2, '0');
    fc.assert(
      fc.property(fc.integer(between), fc.integer({ min: 0, max: 59_999 }), (at, later) => {
        for (const instant of [at, at + later]) {
          const { year, month, day, hour, minute, second } = wallTimeAt(instant, zone);
          const told = `${two(day)}/${two(month)}/${year}, ${two(hour)}:${two(minute)}:${two(second)}`;
          expect(told).toBe(reference.format(instant));
        }
      }),
    );
  });
});
