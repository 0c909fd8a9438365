/** Who is meant by a role in a case, as the line itself finds them. */
import type { Case } from '../../../case/case.ts';
import type { Role } from '../../../case/roles.ts';
import { ladder, type Receivers, receiversOf } from '../../../conversation/people.ts';
import type { Programme } from '../../../conversation/programme.ts';
import type { Person } from '../../../conversation/world.ts';
import type { Holder } from './strip.ts';

/** All that these look-ups need: the roster and the programme. */
export interface Place {
  readonly roster: readonly Person[];
  readonly programme: Programme;
}

const receiversAs: Readonly<Record<Exclude<Role, 'doctor'>, Receivers>> = {
  worker: 'owner',
  lab: 'lab',
  coordinator: 'coordinators',
};

/** Whoever the line tells of a duty as this role. Of doctors one at a time, in turn: the one of reminder number `rung`. */
export function toldAs(place: Place, of: Case, role: Role, at: number, rung: number): readonly Person[] {
  if (role !== 'doctor') return receiversOf(place, of, receiversAs[role], at);
  const doctors = receiversOf(place, of, 'doctors', at);
  return doctors.slice(rung % Math.max(1, doctors.length)).slice(0, 1);
}

/** Several who are told alike as one holder; null = nobody of them is on the line. */
export function holderOf(people: readonly Person[], role: Role): Holder | null {
  const [first] = people;
  if (!first) return null;
  // A case that nobody carries went to somebody of another role.
  const as = first.roles.includes(role) ? role : (first.roles[0] ?? role);
  return { name: people.map((one) => one.name).join(', '), role: as };
}

/** The doctor who is asked next at `at`; null = everybody was. Nobody is asked about their own alarm. */
export function nextOnLadder(
  place: Place,
  { askedOf, askedBy, isAlarm }: { askedOf: readonly string[]; askedBy: string; isAlarm: boolean },
  at: number,
): Person | null {
  const others = ladder(place, at).filter((one) => !isAlarm || one.id !== askedBy);
  return others.find((one) => !askedOf.includes(one.id)) ?? null;
}
