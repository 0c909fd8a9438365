/** Who is who in the roster: read-only look-ups. */

import type { Case } from '../case/case.ts';
import { caseLaboratory } from './case-laboratory.ts';
import { siteOf } from './programme.ts';
import { inRoster, ofRole } from './roster-index.ts';
import { localTime } from './schedule.ts';
import type { Person, Role, World } from './world.ts';

/** All that these look-ups need of a world. */
type Place = Pick<World, 'roster' | 'programme'>;

/** Can be written to: joined, not stopped, not suspended, with an address. */
export function reachable(person: Person): boolean {
  return person.state === 'joined' && person.addresses.length > 0;
}

/** True: a question that an alarm opened. */
export function isAlarmAbout(about: string): boolean {
  return about === 'sos' || about === 'emergency';
}

/** Who is texted about an alarm in the step that raises it. Nobody: the sender is told so. */
export interface AlarmHearers {
  readonly as: 'doctors' | 'coordinators' | 'nobody';
  readonly people: readonly Person[];
}

/**
 * Who must hear at once of an alarm of this person: the first doctor of the ladder (the others follow by time), and where
 * no doctor can be reached all coordinators, as the responders; never the sender. An alarm of a number that is not on the
 * line (`sender` null, invited or suspended) goes to the coordinators.
 */
export function alarmHearers(world: Place, sender: Person | null, now: number): AlarmHearers {
  const others = (people: readonly Person[]): readonly Person[] => people.filter((one) => one.id !== sender?.id);
  const onTheLine = sender !== null && (sender.state === 'joined' || sender.state === 'stopped');
  const doctor = onTheLine ? others(ladder(world, now))[0] : undefined;
  if (doctor) return { as: 'doctors', people: [doctor] };
  const coordinators = others(withRole(world, 'coordinator'));
  return { as: coordinators.length > 0 ? 'coordinators' : 'nobody', people: coordinators };
}

/** The person by id, or null. */
export function personById(world: Place & { readonly person?: Person | null }, id: string | null): Person | null {
  if (id === null) return null;
  if (world.person?.id === id) return world.person;
  return inRoster(world.roster, id);
}

/** People behind one phone: those of a shared one are written `Ada Lumo/Beno Sarr`. At most eight, so that a digit names each. */
export function membersOf(person: Person): readonly string[] {
  if (!person.shared) return [person.name];
  const names = person.name.split('/').map((one) => one.trim());
  return names.filter((one) => one !== '').slice(0, 8);
}

/** Everybody reachable with a role. */
export function withRole(world: Pick<World, 'roster'>, role: Role): readonly Person[] {
  return ofRole(world.roster, role).filter(reachable);
}

/** Doctors in the order in which they are asked: those on duty at `now` first, then by rank. Nobody is left out. */
export function ladder(world: Place, now: number): readonly Person[] {
  const off = (one: Person): number => (onDuty(world, one, now) ? 0 : 1);
  return [...withRole(world, 'doctor')].sort((a, b) => off(a) - off(b) || a.rank - b.rank || (a.id < b.id ? -1 : 1));
}

/** True: has not said OFF for this time, and it lies within the hours given, if any were. */
export function onDuty(world: Place, person: Person, now: number): boolean {
  if (person.offUntil !== undefined && person.offUntil > now) return false;
  const hours = person.dutyHours;
  if (!hours) return true;
  const { hour } = localTime(now, siteOf(world.programme, person.siteId).zone);
  return hours.from < hours.to ? hour >= hours.from && hour < hours.to : hour >= hours.from || hour < hours.to;
}

/** The laboratory's people. */
export function laboratoryPeople(world: Place, labId: string): readonly Person[] {
  const all = withRole(world, 'lab');
  const own = all.filter((one) => one.siteId === labId);
  return own.length > 0 ? own : all.filter((one) => !world.programme.laboratories.some((lab) => lab.id === one.siteId));
}

/** The worker who carries a case; when unreachable, another of the site, lowest id first; null = nobody there. */
export function carrier(world: Place, of: Case): Person | null {
  const owner = personById(world, of.ownerId);
  if (owner && reachable(owner)) return owner;
  const others = withRole(world, 'worker').filter((one) => one.siteId === of.siteId && one.id !== of.ownerId);
  return [...others].sort((a, b) => (a.id < b.id ? -1 : 1))[0] ?? null;
}

/** Questions whose answer goes to whoever asked, not to the carrier of the case. */
const waitsThemselves: ReadonlySet<string> = new Set(['sos', 'asked', 'end']);

/** All that these look-ups need of a question. */
interface Asked {
  readonly about: string;
  readonly askedBy: string;
}

/** Who raised an alarm or asked in words waits for the answer; the rest concerns whoever carries the case. */
export function waitsFor(world: World, of: Case | null, question: Asked): Person | null {
  const asker = personById(world, question.askedBy);
  const waits = asker !== null && waitsThemselves.has(question.about) && asker.state !== 'suspended';
  return of && !waits ? carrier(world, of) : asker;
}

/** The same, for what is said at once: of whoever has left the line it goes to whoever carries the case. */
export function waitsHere(world: World, of: Case | null, question: Asked): Person | null {
  const one = waitsFor(world, of, question);
  return of && !(one && reachable(one)) ? carrier(world, of) : one;
}

/** Who a notice is for. */
export const receivers = ['doctors', 'lab', 'coordinators', 'owner', 'site'] as const;
export type Receivers = (typeof receivers)[number];

/** The people meant, for this case. Doctors: those on duty, else all. A case that nobody carries goes to the coordinators. */
export function receiversOf(world: Place, of: Case | null, to: Receivers, now: number): readonly Person[] {
  switch (to) {
    case 'doctors': {
      const all = ladder(world, now);
      const here = all.filter((one) => onDuty(world, one, now));
      return here.length > 0 ? here : all;
    }
    case 'coordinators':
      return withRole(world, 'coordinator');
    case 'owner': {
      const one = of ? carrier(world, of) : null;
      return one ? [one] : withRole(world, 'coordinator');
    }
    case 'site':
      return withRole(world, 'worker').filter((one) => one.siteId === of?.siteId);
    case 'lab':
      return of ? laboratoryPeople(world, caseLaboratory(world.programme, of).id) : [];
  }
}
