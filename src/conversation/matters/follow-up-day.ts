/** The day on which a lump is looked at again, by the programme's policy. */
import { followUpMonths } from '../../clinical/follow-up-interval.ts';
import type { Moment } from '../moment.ts';
import { type Day, localTime } from '../schedule.ts';
import { zoneOf } from './common.ts';
import { decidedOf } from './decided.ts';

/** Months after which to look again: the governing policy's own interval, else half a year (our convention). */
export function reviewMonths(moment: Moment): readonly [number, number] {
  const { policy } = moment.world.programme;
  const assessment = decidedOf(moment);
  const levels = assessment?.nodules.flatMap((one) => [...(one.policies[policy].levels ?? [])]) ?? [];
  return followUpMonths(policy, levels)?.firstMonths ?? [6, 6];
}

/** So many months from an instant, else from today, on a day that every month has. */
export function laterDay(moment: Moment, months: number, from = moment.now): Day {
  const today = localTime(from, zoneOf(moment));
  const index = today.month - 1 + months;
  return { year: today.year + Math.floor(index / 12), month: (index % 12) + 1, day: Math.min(today.day, 28) };
}

/** The first day of that interval, from an instant, else from today. */
export function followUpDay(moment: Moment, from = moment.now): Day {
  return laterDay(moment, reviewMonths(moment)[0], from);
}
