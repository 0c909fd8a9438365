import { describe, expect, it } from 'vitest';
import { clockWords, dayAt, dayWordsAt, dayYearWordsAt, hourAt } from '../../src/text/time-words.ts';

const months = ['JAN', 'FEB', 'MAR', 'APR', 'MAY', 'JUN', 'JUL', 'AUG', 'SEP', 'OCT', 'NOV', 'DEC'];
const at = (iso: string): number => Date.parse(iso);

describe('instants in words', () => {
  it('say the time of day at the site', () => {
    expect(clockWords(at('2030-03-12T07:42:00Z'), 'Africa/Nairobi')).toBe('10:42');
    expect(clockWords(at('2030-03-12T00:05:00Z'), 'UTC')).toBe('00:05');
  });

  it('say the day with its month in words', () => {
    expect(dayWordsAt(at('2030-03-12T10:00:00Z'), 'UTC', months)).toBe('12 MAR');
    expect(dayYearWordsAt(at('2030-03-12T10:00:00Z'), 'UTC', months)).toBe('12 MAR 2030');
  });

  it('change the day at midnight of the site', () => {
    const instant = at('2030-12-31T22:30:00Z');
    expect(dayYearWordsAt(instant, 'Africa/Nairobi', months)).toBe('1 JAN 2031');
    expect(dayAt(instant, 'America/Lima')).toEqual({ year: 2030, month: 12, day: 31 });
    expect(hourAt(instant, 'Africa/Nairobi')).toBe(1);
  });

  it('follow summer time', () => {
    expect(clockWords(at('2030-03-31T00:59:00Z'), 'Europe/Vienna')).toBe('01:59');
    expect(clockWords(at('2030-03-31T01:00:00Z'), 'Europe/Vienna')).toBe('03:00');
  });
});
