import { describe, expect, it } from 'vitest';
import { type DateRule, readDate } from '../../../src/conversation/answers/date.ts';
import { addDays, dayNumber, isCalendarDay } from '../../../src/text/calendar-day.ts';

const rule: DateRule = {
  today: { year: 2030, month: 3, day: 12 },
  months: { jan: 1, feb: 2, mar: 3, march: 3, marzo: 3, dec: 12 },
  dayWords: { today: 0, tomorrow: 1 },
  weekdays: { monday: 1, tuesday: 2, sunday: 7 },
  units: { days: 1, weeks: 7 },
  fillers: ['de', 'next', 'in'],
  minDays: -60,
  maxDays: 366,
};
const day = (year: number, month: number, date: number) => ({ year, month, day: date });

describe('a day', () => {
  it.each([
    ['30 MAR', day(2030, 3, 30)],
    ['30mar', day(2030, 3, 30)],
    ['March 30', day(2030, 3, 30)],
    ['30 de marzo', day(2030, 3, 30)],
    ['30 mar 2030', day(2030, 3, 30)],
    ['30-mar-30', day(2030, 3, 30)],
    ['30/3', day(2030, 3, 30)],
    ['30.3.', day(2030, 3, 30)],
    ['30.3.2030', day(2030, 3, 30)],
    ['2030-03-30', day(2030, 3, 30)],
    ['٣٠/٣', day(2030, 3, 30)],
    ['Tomorrow', day(2030, 3, 13)],
    ['today.', day(2030, 3, 12)],
    ['20 jan', day(2030, 1, 20)],
    ['2 jan', day(2031, 1, 2)],
    ['28 dec', day(2030, 12, 28)],
    // 12 March 2030 is a Tuesday.
    ['monday', day(2030, 3, 18)],
    ['next Monday', day(2030, 3, 18)],
    ['Sunday.', day(2030, 3, 17)],
    ['tuesday', day(2030, 3, 19)],
    ['in 5 days', day(2030, 3, 17)],
    ['2 weeks', day(2030, 3, 26)],
    ['3days', day(2030, 3, 15)],
  ])('is read from %j', (text, expected) => {
    expect(readDate(text, rule)).toEqual({ ok: true, value: expected });
  });

  it.each([
    ['a day the calendar lacks', '31/02', 'not-a-date'],
    ['29 February of a common year', '29 feb 2030', 'not-a-date'],
    ['month before day', '3/30', 'not-a-date'],
    ['two numbers with a space', '30 3', 'not-a-date'],
    ['a day alone', '30', 'not-a-date'],
    ['two days of the week', 'monday tuesday', 'not-a-date'],
    ['days without their number', 'days', 'not-a-date'],
    ['too many weeks', '80 weeks', 'date-too-far'],
    ['an unknown month', '30 mrz', 'not-a-date'],
    ['a day too far', '30 mar 2035', 'date-too-far'],
    ['a day too old', '1 mar 2029', 'date-too-old'],
    ['nothing', ' ', 'empty'],
  ])('is asked again for %s', (_what, text, reason) => {
    expect(readDate(text, rule)).toEqual({ ok: false, reason });
  });

  it('that must have passed is refused when it lies ahead', () => {
    expect(readDate('13 mar', { ...rule, minDays: -10, maxDays: 0 })).toEqual({ ok: false, reason: 'date-in-future' });
  });
});

describe('the calendar', () => {
  it('counts as the Gregorian calendar does', () => {
    const epoch = dayNumber(day(1970, 1, 1));
    for (const [year, month, date] of [
      [2000, 2, 29],
      [2030, 3, 12],
      [2100, 3, 1],
      [1999, 12, 31],
    ] as const) {
      expect((dayNumber(day(year, month, date)) - epoch) * 86_400_000).toBe(Date.UTC(year, month - 1, date));
    }
  });

  it('adds days over months and years, both ways', () => {
    expect(addDays(day(2030, 12, 31), 1)).toEqual(day(2031, 1, 1));
    expect(addDays(day(2032, 3, 1), -1)).toEqual(day(2032, 2, 29));
    expect(addDays(day(2030, 3, 12), 400)).toEqual(day(2031, 4, 16));
  });

  it('has a leap day in 2000 and none in 2100', () => {
    expect(isCalendarDay(day(2000, 2, 29))).toBe(true);
    expect(isCalendarDay(day(2100, 2, 29))).toBe(false);
    expect(isCalendarDay(day(2030, 13, 1))).toBe(false);
  });
});
