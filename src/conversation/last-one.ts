/** Who is the last one that could help: without them a role that patients depend on has nobody whom the line reaches. */
import type { Role } from '../case/roles.ts';
import { laboratoryPeople, reachable, withRole } from './people.ts';
import type { Person, World } from './world.ts';

type Place = Pick<World, 'roster' | 'programme'>;

/** A role that nobody holds whom the line reaches; a laboratory counts for each clinic that posts to it, by id. */
export interface EmptyRole {
  readonly role: Extract<Role, 'doctor' | 'lab' | 'coordinator'>;
  readonly siteId: string | null;
}

/** The roles of a programme that have nobody. */
export function emptyRoles(place: Place): readonly EmptyRole[] {
  const people = (['doctor', 'coordinator'] as const).filter((role) => withRole(place, role).length === 0);
  const clinics = place.programme.sites.filter(({ labId }) => laboratoryPeople(place, labId).length === 0);
  return [
    ...people.map((role) => ({ role, siteId: null })),
    ...clinics.map(({ id }) => ({ role: 'lab' as const, siteId: id })),
  ];
}

/** The roles that have somebody in the one roster and nobody in the other. */
export function emptiedBy(before: Place, after: Place): readonly EmptyRole[] {
  const was = emptyRoles(before);
  return emptyRoles(after).filter((one) => !was.some(({ role, siteId }) => role === one.role && siteId === one.siteId));
}

/** The role that would be left with nobody on the line; null = somebody stays, or this person is not reached anyway. */
export function lastOf(place: Place, person: Person): EmptyRole['role'] | null {
  if (!reachable(person)) return null;
  const roster = place.roster.filter((one) => one.id !== person.id);
  return emptiedBy(place, { ...place, roster })[0]?.role ?? null;
}
