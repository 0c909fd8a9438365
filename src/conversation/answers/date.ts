import { addDays, type CalendarDay, dayNumber, isCalendarDay } from '../../text/calendar-day.ts';
import { foldWord } from '../../text/fold.ts';
import { type Parsed, read, unreadable } from './answer.ts';
import { longestReply, tidy } from './reply.ts';

/** How a day is read. All words folded. */
export interface DateRule {
  /** The day at the place of the person. */
  readonly today: CalendarDay;
  /** Month by word, 1 to 12: every spelling accepted. */
  readonly months: Readonly<Record<string, number>>;
  /** Days from today by word: `today` 0, `tomorrow` 1, `yesterday` -1. */
  readonly dayWords: Readonly<Record<string, number>>;
  /** Days of the week by word, Monday 1 to Sunday 7. */
  readonly weekdays?: Readonly<Record<string, number>>;
  /** Days of a unit by word: `day` 1, `week` 7. */
  readonly units?: Readonly<Record<string, number>>;
  /** Words that may stand between (`de` in `30 de marzo`). */
  readonly fillers?: readonly string[];
  /** Inclusive limits in days from today. */
  readonly minDays: number;
  readonly maxDays: number;
}

/**
 * A day: `30 MAR`, `30 mar 2030`, `MAR 30`, `30/3`, `30.3.2030`, `2030-03-30`, or a day word. Numbers alone are day before
 * month. Without a year it is the nearest such day within the limits. A day the calendar lacks is refused, not moved. `monday`,
 * `next monday` is the coming one, today's own name a week from today; `in 5 days` counts from today.
 */
export function readDate(text: string, rule: DateRule): Parsed<CalendarDay> {
  if (text.length > longestReply) return unreadable('too-long');
  const plain = foldWord(tidy(text));
  if (plain === '') return unreadable('empty');
  const word = plain.replace(/[.!]+$/, '');
  const offset = Object.hasOwn(rule.dayWords, word) ? rule.dayWords[word]! : null;
  if (offset !== null) return withinLimits(addDays(rule.today, offset), rule);
  const ahead = daysAhead(word, rule);
  if (ahead !== null) return withinLimits(addDays(rule.today, ahead), rule);
  const parts = partsOf(plain, rule);
  if (!parts) return unreadable('not-a-date');
  if (parts.year !== null) {
    const day = { year: parts.year, month: parts.month, day: parts.day };
    return isCalendarDay(day) ? withinLimits(day, rule) : unreadable('not-a-date');
  }
  return nearest(parts, rule);
}

/** Days from today to a day of the week or after so many days or weeks; null = it is not that. */
function daysAhead(plain: string, rule: DateRule): number | null {
  const said = plain.split(/[\s,]+/).filter((word) => !rule.fillers?.includes(word));
  const [first = '', second = '', ...more] = said
    .join(' ')
    .replace(/^(\d+)(?=\p{L})/u, '$1 ')
    .split(' ');
  if (more.length > 0) return null;
  if (second === '' && rule.weekdays && Object.hasOwn(rule.weekdays, first)) {
    // 1 January of year 1 was a Monday.
    const today = (dayNumber(rule.today) % 7) + 1;
    return ((rule.weekdays[first]! - today + 6) % 7) + 1;
  }
  if (!/^\d{1,3}$/.test(first) || !rule.units || !Object.hasOwn(rule.units, second)) return null;
  return Number(first) * rule.units[second]!;
}

interface DateParts {
  readonly day: number;
  readonly month: number;
  readonly year: number | null;
}

function partsOf(plain: string, rule: DateRule): DateParts | null {
  const tokens = plain.match(/\d+|[\p{L}\p{M}]+|[^\s\d\p{L}\p{M}]+/gu) ?? [];
  const signs = tokens.filter((token) => /^[^\d\p{L}\p{M}]/u.test(token));
  if (signs.some((sign) => !/^[./,-]$/.test(sign))) return null;
  const said = tokens.filter((token) => !signs.includes(token) && !rule.fillers?.includes(token));
  const isNumber = (token: string | undefined): token is string => token !== undefined && /^\d+$/.test(token);
  const monthOf = (token: string | undefined): number | null =>
    token !== undefined && Object.hasOwn(rule.months, token) ? rule.months[token]! : null;
  const [first, second, third, ...more] = said;
  if (more.length > 0) return null;
  if (isNumber(first) && first.length === 4 && isNumber(second) && isNumber(third)) {
    return parts(third, Number(second), first, rule);
  }
  if (isNumber(first) && monthOf(second) !== null) return parts(first, monthOf(second)!, third, rule);
  if (monthOf(first) !== null && isNumber(second)) return parts(second, monthOf(first)!, third, rule);
  // Two numbers with only a space could be anything; a sign makes them a date.
  if (isNumber(first) && isNumber(second) && signs.length > 0 && second.length <= 2) {
    return parts(first, Number(second), third, rule);
  }
  return null;
}

function parts(day: string, month: number, year: string | undefined, rule: DateRule): DateParts | null {
  if (!/^\d{1,2}$/.test(day)) return null;
  if (year === undefined) return { day: Number(day), month, year: null };
  if (/^\d{4}$/.test(year)) return { day: Number(day), month, year: Number(year) };
  if (!/^\d{2}$/.test(year)) return null;
  // Two digits: the year nearest to today that ends in them.
  const century = rule.today.year - (rule.today.year % 100) + Number(year);
  const full = [century - 100, century, century + 100].reduce((best, one) =>
    Math.abs(one - rule.today.year) < Math.abs(best - rule.today.year) ? one : best,
  );
  return { day: Number(day), month, year: full };
}

function nearest(parts: DateParts, rule: DateRule): Parsed<CalendarDay> {
  const distance = (day: CalendarDay): number => Math.abs(dayNumber(day) - dayNumber(rule.today));
  // Four years each way hold a 29 February, but for the turn of most centuries.
  const days = [-4, -3, -2, -1, 0, 1, 2, 3, 4]
    .map((years) => ({ year: rule.today.year + years, month: parts.month, day: parts.day }))
    .filter(isCalendarDay)
    .sort((one, other) => distance(one) - distance(other));
  const first = days[0];
  if (!first) return unreadable('not-a-date');
  const within = days.find((day) => withinLimits(day, rule).ok);
  return withinLimits(within ?? first, rule);
}

function withinLimits(day: CalendarDay, rule: DateRule): Parsed<CalendarDay> {
  const away = dayNumber(day) - dayNumber(rule.today);
  if (away < rule.minDays) return unreadable('date-too-old');
  if (away <= rule.maxDays) return read(day);
  return unreadable(rule.maxDays <= 0 ? 'date-in-future' : 'date-too-far');
}
