/** Who is who in the roster: read-only look-ups. */
import type { Case } from '../case/case.ts';
import { siteOf } from './programme.ts';
import type { Question } from './state.ts';
import type { Person, Role, World } from './world.ts';

/** Can be written to: joined, not stopped, not suspended. */
export function reachable(person: Person): boolean {
  return person.state === 'joined';
}

/** The person by id, or null. */
export function personById(world: World, id: string | null): Person | null {
  if (id === null) return null;
  if (world.person?.id === id) return world.person;
  return world.roster.find((one) => one.id === id) ?? null;
}

/** Everybody reachable with a role. */
export function withRole(world: World, role: Role): readonly Person[] {
  return world.roster.filter((one) => one.roles.includes(role) && reachable(one));
}

/** Doctors in the order in which they are asked. */
export function ladder(world: World): readonly Person[] {
  return [...withRole(world, 'doctor')].sort((a, b) => a.rank - b.rank || (a.id < b.id ? -1 : 1));
}

/** The laboratory's people. */
export function laboratoryPeople(world: World, labId: string): readonly Person[] {
  const all = withRole(world, 'lab');
  const own = all.filter((one) => one.siteId === labId);
  return own.length > 0 ? own : all.filter((one) => !world.programme.laboratories.some((lab) => lab.id === one.siteId));
}

/** The worker who carries a case; when unreachable, another of the site, lowest id first; null = nobody there. */
export function carrier(world: World, of: Case): Person | null {
  const owner = personById(world, of.ownerId);
  if (owner && reachable(owner)) return owner;
  const others = withRole(world, 'worker').filter((one) => one.siteId === of.siteId && one.id !== of.ownerId);
  return [...others].sort((a, b) => (a.id < b.id ? -1 : 1))[0] ?? null;
}

/** Questions whose answer goes to whoever asked, not to the carrier of the case. */
const waitsThemselves: ReadonlySet<string> = new Set(['sos', 'asked']);

/** Who raised an alarm or asked in words waits for the answer; the rest concerns whoever carries the case. */
export function waitsFor(world: World, of: Case | null, question: Question): Person | null {
  const asker = personById(world, question.askedBy);
  const waits = asker !== null && waitsThemselves.has(question.about) && asker.state !== 'suspended';
  return of && !waits ? carrier(world, of) : asker;
}

/** Who a notice is for. */
export type Receivers = 'doctors' | 'lab' | 'coordinators' | 'owner' | 'site';

/** The people meant, for this case. A case without anybody to carry it goes to the coordinators. */
export function receiversOf(world: World, of: Case | null, to: Receivers): readonly Person[] {
  switch (to) {
    case 'doctors':
      return ladder(world);
    case 'coordinators':
      return withRole(world, 'coordinator');
    case 'owner': {
      const one = of ? carrier(world, of) : null;
      return one ? [one] : withRole(world, 'coordinator');
    }
    case 'site':
      return withRole(world, 'worker').filter((one) => one.siteId === of?.siteId);
    case 'lab':
      return of ? laboratoryPeople(world, siteOf(world.programme, of.siteId).labId) : [];
  }
}
