import type { CalendarDay } from './calendar-day.ts';

/** Wall-clock time in a zone. */
export interface WallTime extends CalendarDay {
  readonly hour: number;
  readonly minute: number;
  readonly second: number;
}

const formatters = new Map<string, Intl.DateTimeFormat>();

/** One formatter a zone: building one costs far more than using it. Zones are few, they come from the programme. */
function formatterOf(zone: string): Intl.DateTimeFormat {
  const known = formatters.get(zone);
  if (known) return known;
  const made = new Intl.DateTimeFormat('en-u-ca-gregory-nu-latn', {
    timeZone: zone,
    hourCycle: 'h23',
    year: 'numeric',
    month: 'numeric',
    day: 'numeric',
    hour: 'numeric',
    minute: 'numeric',
    second: 'numeric',
  });
  formatters.set(zone, made);
  return made;
}

const minuteMs = 60_000;
const minutesKept = 1_000;
const minutes = new Map<string, WallTime>();

/**
 * Wall-clock time of an instant (epoch ms) in an IANA zone. Throws on an unknown zone. Minutes are remembered: since 1972
 * every zone is whole minutes from UTC (IANA time zone database), so that seconds are the same everywhere.
 */
export function wallTimeAt(epochMs: number, zone: string): WallTime {
  const minute = Math.floor(epochMs / minuteMs);
  const key = `${zone} ${minute}`;
  let wall = minutes.get(key);
  if (!wall) {
    wall = readAt(minute * minuteMs, zone);
    if (minutes.size >= minutesKept) minutes.delete(minutes.keys().next().value as string);
    minutes.set(key, wall);
  }
  return { ...wall, second: wall.second + Math.floor((epochMs - minute * minuteMs) / 1000) };
}

function readAt(epochMs: number, zone: string): WallTime {
  const read = { year: 0, month: 0, day: 0, hour: 0, minute: 0, second: 0 };
  for (const { type, value } of formatterOf(zone).formatToParts(epochMs)) {
    if (type in read) read[type as keyof typeof read] = Number(value);
  }
  return read;
}

/** The calendar day of an instant (epoch ms) in an IANA zone. Throws on an unknown zone. */
export function dayAt(epochMs: number, zone: string): CalendarDay {
  const { year, month, day } = wallTimeAt(epochMs, zone);
  return { year, month, day };
}

/** Time of day, 24 hours, `10:42`. Throws on an unknown zone. */
export function clockWords(epochMs: number, zone: string): string {
  const { hour, minute } = wallTimeAt(epochMs, zone);
  return `${String(hour).padStart(2, '0')}:${String(minute).padStart(2, '0')}`;
}

/** Hour of the day, 0 to 23, for quiet hours. Throws on an unknown zone. */
export function hourAt(epochMs: number, zone: string): number {
  return wallTimeAt(epochMs, zone).hour;
}

/**
 * Day and month in words, `12 MAR`. `months`: twelve names, January first. A language whose countries name the months
 * differently has figures for them: `12/3`, which phones that write from right to left draw in this order too.
 */
export function dayWords(day: CalendarDay, months: readonly string[]): string {
  const month = months[day.month - 1]!;
  return `${day.day}${isFigure(month) ? '/' : ' '}${month}`;
}

/** Whether a language says this month by its number. */
export function isFigure(month: string): boolean {
  return /^\d+$/u.test(month);
}

/** Day, month in words and year, `12 MAR 2030`. */
export function dayYearWords(day: CalendarDay, months: readonly string[]): string {
  const between = isFigure(months[day.month - 1]!) ? '/' : ' ';
  return `${dayWords(day, months)}${between}${day.year}`;
}

/** `12 MAR` of an instant (epoch ms) in an IANA zone. */
export function dayWordsAt(epochMs: number, zone: string, months: readonly string[]): string {
  return dayWords(dayAt(epochMs, zone), months);
}

/** `12 MAR 2030` of an instant (epoch ms) in an IANA zone. */
export function dayYearWordsAt(epochMs: number, zone: string, months: readonly string[]): string {
  return dayYearWords(dayAt(epochMs, zone), months);
}
