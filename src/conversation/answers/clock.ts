import { localTime } from '../schedule.ts';
import { tidy } from './reply.ts';

/** A time of the day further back than this is no answer about what was just done, ms. Our convention. */
const longestAgoMs = 6 * 3_600_000;
/** A watch may be ahead by so much, ms. Our convention. */
const aheadMs = 10 * 60_000;

/**
 * The last instant at which a clock in this zone showed `10:40` (also `10.40`, `10 40`, `1040`, `10h40`). Null where nothing can be
 * read, or the time is hours ago or still to come. A watch that is a little ahead counts as now.
 */
export function lastClock(text: string, now: number, zone: string): number | null {
  const found = /^(?<hour>\d{1,2})(?:[\s:.,hH]\s?)?(?<minute>\d{2})$/u.exec(tidy(text));
  const [hour, minute] = [Number(found?.groups?.hour), Number(found?.groups?.minute)];
  if (!found || hour > 23 || minute > 59) return null;
  const local = localTime(now, zone);
  const dayMs = 86_400_000;
  const away = (hour - local.hour) * 3_600_000 + (minute - local.minute) * 60_000;
  const at = now - local.second * 1000 + away;
  const candidates = [at, at - dayMs].filter((one) => one <= now + aheadMs && one >= now - longestAgoMs);
  return candidates.length === 0 ? null : Math.min(now, candidates[0]!);
}
