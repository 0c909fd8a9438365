/** The coordinator's morning text: when it is due. Its absence is the alarm, so it hangs on nothing but clock and roster. */

import type { Due, Unsigned } from './event.ts';
import { durationOf, type Programme, siteOf } from './programme.ts';
import { ofRole } from './roster-index.ts';
import { addDays, dayText, instantOf, localTime, parseDay, weekdayOf } from './schedule.ts';
import type { Person } from './world.ts';

/** What is stuck at the laboratory is said although its result is due in weeks. Our convention. */
export const looksAheadMs = 31 * 86_400_000;

/** Whoever gets the morning text. */
export function digestReaders(roster: readonly Person[]): readonly Person[] {
  return ofRole(roster, 'coordinator').filter((one) => one.state === 'joined');
}

/** The day whose text this person is due at an instant, in their own zone; null = none. One that is too late is left out. */
export function digestDay(programme: Programme, person: Person, now: number): string | null {
  const zone = siteOf(programme, person.siteId).zone;
  const today = localTime(now, zone);
  const at = instantOf(today, programme.digest, zone);
  return now >= at && now < at + durationOf(programme, 'digest-late') ? dayText(today) : null;
}

/** True: a week begins with this day (`2030-03-04`). */
export function isMonday(day: string): boolean {
  const read = parseDay(day);
  return read !== null && weekdayOf(read) === 1;
}

/** The next instant after `now` at which a morning text falls due. */
export function nextDigestAt(programme: Programme, roster: readonly Person[], now: number): number | null {
  const instants = digestReaders(roster).map((person) => {
    const zone = siteOf(programme, person.siteId).zone;
    const today = localTime(now, zone);
    const at = instantOf(today, programme.digest, zone);
    return at > now ? at : instantOf(addDays(today, 1), programme.digest, zone);
  });
  return instants.length === 0 ? null : Math.min(...instants);
}

/**
 * The event of one morning: its id says person and day, so that a day has one however often it is tried. `head` is the
 * mark of the day's head over the whole history, `unsigned` what nobody signed or read; null = it is not said.
 */
export function digestDue(
  programme: Programme,
  person: Person,
  day: string,
  now: number,
  { head, unsigned = null }: { readonly head: string | null; readonly unsigned?: Unsigned | null },
): Due {
  return {
    id: `digest:${person.id}:${day}`,
    programmeId: programme.id,
    personId: person.id,
    caseId: null,
    name: 'digest',
    frameId: null,
    dueAt: now,
    what: {
      kind: 'overview',
      for: 'digest',
      until: now + looksAheadMs,
      since: null,
      head,
      ...(unsigned === null ? {} : { unsigned }),
    },
  };
}
