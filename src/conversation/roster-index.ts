import type { Person, Role } from './world.ts';

interface Index {
  readonly byId: ReadonlyMap<string, Person>;
  readonly byRole: ReadonlyMap<Role, readonly Person[]>;
}

/** A roster is the same list until somebody changes it: thousands of people are not gone through for each text. */
const indexes = new WeakMap<readonly Person[], Index>();

function indexOf(roster: readonly Person[]): Index {
  const known = indexes.get(roster);
  if (known) return known;
  const byId = new Map<string, Person>();
  const byRole = new Map<Role, Person[]>();
  for (const person of roster) {
    if (!byId.has(person.id)) byId.set(person.id, person);
    for (const role of new Set(person.roles)) {
      const before = byRole.get(role);
      if (before) before.push(person);
      else byRole.set(role, [person]);
    }
  }
  const made = { byId, byRole };
  indexes.set(roster, made);
  return made;
}

/** The person with this id, or null. */
export function inRoster(roster: readonly Person[], id: string): Person | null {
  return indexOf(roster).byId.get(id) ?? null;
}

/** Everybody with this role, in the order of the roster. */
export function ofRole(roster: readonly Person[], role: Role): readonly Person[] {
  return indexOf(roster).byRole.get(role) ?? [];
}
