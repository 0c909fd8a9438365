import { localTime } from '../schedule.ts';
import { type Parsed, read, unreadable } from './answer.ts';
import { tidy } from './reply.ts';
import { type SpokenClock, spokenTime } from './spoken-clock.ts';

/** A time of the day further back than this is no answer about what was just done, ms. Our convention. */
const longestAgoMs = 6 * 3_600_000;
/** A watch may be ahead, or behind, by so much, ms. Our convention. */
const aheadMs = 10 * 60_000;

/**
 * The last instant at which a clock in this zone showed `10:40` (also `10.40`, `10 40`, `1040`, `10h40`). Not taken where nothing
 * can be read, or the time is hours ago or still to come. A watch that is a little ahead counts as now. Where the hours of the
 * day are also counted from another one (`spoken`), figures that far back may mean now, and are not taken.
 */
export function lastClock(text: string, now: number, zone: string, spoken: SpokenClock | null = null): Parsed<number> {
  const said = (spoken && spokenTime(tidy(text), spoken)) ?? tidy(text);
  const found = /^(?<hour>\d{1,2})(?:[\s:.,hH]\s?)?(?<minute>\d{2})$/u.exec(said);
  const [hour, minute] = [Number(found?.groups?.hour), Number(found?.groups?.minute)];
  if (!found || hour > 23 || minute > 59) return unreadable('not-a-time');
  const local = localTime(now, zone);
  const dayMs = 86_400_000;
  const away = (hour - local.hour) * 3_600_000 + (minute - local.minute) * 60_000;
  const today = now - local.second * 1000 + away;
  const last = today <= now + aheadMs ? today : today - dayMs;
  const behindMs = (spoken?.behind ?? Number.POSITIVE_INFINITY) * 3_600_000;
  const longest = Math.min(longestAgoMs, said === tidy(text) ? behindMs - 6 * aheadMs : longestAgoMs);
  if (last >= now - longest) return read(Math.min(now, last));
  // Of two that do not fit the nearer one was meant.
  return unreadable(today > now && today - now < now - last ? 'time-to-come' : 'time-too-long-ago');
}

/**
 * What was said of an instant between two that are known, ms: a little outside, by a watch that differs, counts as the limit.
 */
export function heldBetween(at: number, from: number, to: number): Parsed<number> {
  if (at < from - aheadMs) return unreadable('time-before-needle');
  if (at > to + aheadMs) return unreadable('time-after-report');
  return read(Math.min(to, Math.max(from, at)));
}
