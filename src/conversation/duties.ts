import type { Case } from '../case/case.ts';
import { dutyOf } from '../case/duty.ts';
import { durationOf, type Programme, siteOf } from './programme.ts';
import { addDays, instantOf, parseDay } from './schedule.ts';

/** Gives the programme's durations, and the start of the day after an appointment, to the case's rules. */
export function dutyTimes<T>(
  programme: Programme,
  siteId: string,
  use: (msOf: (name: string) => number, dayStart: (day: string) => number) => T,
): T {
  const zone = siteOf(programme, siteId).zone;
  return use(
    (name) => durationOf(programme, name),
    (text) => {
      const day = parseDay(text);
      return day ? instantOf(addDays(day, 1), programme.daytime.from, zone) : 0;
    },
  );
}

/** When the case's duty is due: the store's `due_at`. Null for a closed case, and for practice: nobody is called for it. */
export function dueAtOf(programme: Programme, of: Case): number | null {
  if (of.practice) return null;
  return dutyTimes(programme, of.siteId, (msOf, dayStart) => dutyOf(of, msOf, dayStart))?.dueAt ?? null;
}
