/**
 * Days and hours where people live. Durations under a day are exact; dates are calendar days in an IANA zone.
 * Instants are milliseconds since 1970 UTC, so nothing here reads a clock.
 */

/** A calendar day. `month` 1 to 12. */
export interface Day {
  readonly year: number;
  readonly month: number;
  readonly day: number;
}

export interface LocalTime extends Day {
  readonly hour: number;
  readonly minute: number;
  readonly second: number;
  /** 1 = Monday … 7 = Sunday. */
  readonly weekday: number;
}

const dayMs = 86_400_000;
const formats = new Map<string, Intl.DateTimeFormat>();

function formatOf(zone: string): Intl.DateTimeFormat {
  const known = formats.get(zone);
  if (known) return known;
  const made = new Intl.DateTimeFormat('en-GB', {
    timeZone: zone,
    hourCycle: 'h23',
    year: 'numeric',
    month: 'numeric',
    day: 'numeric',
    hour: 'numeric',
    minute: 'numeric',
    second: 'numeric',
  });
  formats.set(zone, made);
  return made;
}

/** Days since 1970-01-01 of a day in the Gregorian calendar. */
export function dayNumber(of: Day): number {
  const year = of.month <= 2 ? of.year - 1 : of.year;
  const era = Math.floor(year / 400);
  const yearOfEra = year - era * 400;
  const dayOfYear = Math.floor((153 * (of.month + (of.month > 2 ? -3 : 9)) + 2) / 5) + of.day - 1;
  const dayOfEra = yearOfEra * 365 + Math.floor(yearOfEra / 4) - Math.floor(yearOfEra / 100) + dayOfYear;
  return era * 146_097 + dayOfEra - 719_468;
}

/** The day that is so many days after 1970-01-01. */
export function dayFromNumber(days: number): Day {
  const shifted = days + 719_468;
  const era = Math.floor(shifted / 146_097);
  const dayOfEra = shifted - era * 146_097;
  const yearOfEra = Math.floor(
    (dayOfEra - Math.floor(dayOfEra / 1460) + Math.floor(dayOfEra / 36_524) - Math.floor(dayOfEra / 146_096)) / 365,
  );
  const dayOfYear = dayOfEra - (365 * yearOfEra + Math.floor(yearOfEra / 4) - Math.floor(yearOfEra / 100));
  const part = Math.floor((5 * dayOfYear + 2) / 153);
  const month = part < 10 ? part + 3 : part - 9;
  return {
    year: yearOfEra + era * 400 + (month <= 2 ? 1 : 0),
    month,
    day: dayOfYear - Math.floor((153 * part + 2) / 5) + 1,
  };
}

/** Wall-clock time at an instant in a zone. */
export function localTime(at: number, zone: string): LocalTime {
  const read = { year: 0, month: 0, day: 0, hour: 0, minute: 0, second: 0 };
  for (const part of formatOf(zone).formatToParts(at)) {
    if (part.type in read) read[part.type as keyof typeof read] = Number(part.value);
  }
  const weekday = ((((dayNumber(read) + 3) % 7) + 7) % 7) + 1;
  return { ...read, weekday };
}

/** The instant of a wall-clock time; in an hour skipped by a clock change, the first instant after it. */
export function instantOf(day: Day, hour: number, zone: string): number {
  const wall = dayNumber(day) * dayMs + hour * 3_600_000;
  let guess = wall - offsetAt(wall, zone);
  guess = wall - offsetAt(guess, zone);
  const got = localTime(guess, zone);
  const off = dayNumber(got) * dayMs + (got.hour * 3600 + got.minute * 60 + got.second) * 1000 - wall;
  return off < 0 ? guess - off : guess;
}

function offsetAt(at: number, zone: string): number {
  const local = localTime(at, zone);
  const wall = dayNumber(local) * dayMs + (local.hour * 3600 + local.minute * 60 + local.second) * 1000;
  return wall - Math.floor(at / 1000) * 1000;
}

/** The same wall-clock day plus `days`. */
export function addDays(day: Day, days: number): Day {
  return dayFromNumber(dayNumber(day) + days);
}

/** `2030-03-04`: sorts and compares as text. */
export function dayText(day: Day): string {
  return `${String(day.year).padStart(4, '0')}-${String(day.month).padStart(2, '0')}-${String(day.day).padStart(2, '0')}`;
}

/** Reads `2030-03-04`. Null for anything else. */
export function parseDay(text: string): Day | null {
  const found = /^(\d{4})-(\d{2})-(\d{2})$/.exec(text);
  if (!found) return null;
  return { year: Number(found[1]), month: Number(found[2]), day: Number(found[3]) };
}

/** `at` itself when it lies in the daytime window (hours, end not included), else the next start of it. */
export function inDaytime(at: number, zone: string, window: { readonly from: number; readonly to: number }): number {
  const local = localTime(at, zone);
  if (local.hour >= window.from && local.hour < window.to) return at;
  const day = local.hour < window.from ? local : addDays(local, 1);
  return instantOf(day, window.from, zone);
}
