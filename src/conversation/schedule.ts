/**
 * Days and hours where people live. Durations under a day are exact; dates are calendar days in an IANA zone.
 * Instants are milliseconds since 1970 UTC, so nothing here reads a clock.
 */

import { addDays, type CalendarDay, dayNumber as sinceYearOne } from '../text/calendar-day.ts';
import { type WallTime, wallTimeAt } from '../text/time-words.ts';

export { addDays };
export type Day = CalendarDay;

export interface LocalTime extends WallTime {
  /** 1 = Monday … 7 = Sunday. */
  readonly weekday: number;
}

const dayMs = 86_400_000;
/** Days from 1970-01-01 to a day. */
function dayNumber(day: Day): number {
  return sinceYearOne(day) - sinceYearOne({ year: 1970, month: 1, day: 1 });
}

/** Day of the week, 1 = Monday … 7 = Sunday. */
export function weekdayOf(day: Day): number {
  return ((((dayNumber(day) + 3) % 7) + 7) % 7) + 1;
}

/** Wall-clock time at an instant in a zone. */
export function localTime(at: number, zone: string): LocalTime {
  const read = wallTimeAt(at, zone);
  return { ...read, weekday: weekdayOf(read) };
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
