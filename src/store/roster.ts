/** Everybody of a programme, in memory: names and addresses stay sealed there until somebody asks for them. */

import { type Kysely, sql } from 'kysely';
import type { Address, Person, Role } from '../conversation/world.ts';
import type { Log } from '../line/ports.ts';
import { errorCode } from '../text/error-code.ts';
import { personKeyId } from './data-keys.ts';
import type { Dialect } from './dialects/dialect.ts';
import type { KeyRing } from './keys.ts';
import { personBound, rolesOf, type SealedPart } from './people.ts';
import type { Tables } from './schema.ts';
import { openJson } from './seal.ts';
import { all, one, reading, type Steps, slot } from './statement.ts';
import { unwrapKey } from './wrapping.ts';

/** Between the columns of an entry; none of them holds it. */
const separator = '\n';

const clearColumns = ['id', 'roles', 'site_id', 'locale', 'rank', 'state', 'practised', 'shared', 'version'] as const;

function rosterStatements(db: Kysely<Tables>, dialect: Dialect) {
  // One text for each person: with many of them, columns of their own take most of the time of reading.
  const key = sql`coalesce(${dialect.hex(sql.ref('k.wrapped'))}, '')`;
  const clear = clearColumns.map((name) => sql.ref(`p.${name}`));
  const entry = sql.join([key, dialect.hex(sql.ref('p.sealed')), ...clear], sql` || ${sql.lit(separator)} || `);
  return {
    version: reading<{ programme_id: string }, { version: number }>(
      'rosterVersion',
      db.selectFrom('rosters').select('version').where('programme_id', '=', slot('programme_id')),
    ),
    changed: reading<{ programme_id: string; since: number }, { entry: string }>(
      'rosterChanged',
      db
        .selectFrom('people as p')
        .leftJoin('data_keys as k', (join) => join.on('k.id', '=', sql`'person:' || p.id`))
        .select(sql<string>`${entry}`.as('entry'))
        .where('p.programme_id', '=', slot('programme_id'))
        .where('p.changed_in', '>', slot('since')),
    ),
  };
}

/** The wrapped key, what is sealed, then the clear columns. */
type EntryTexts = readonly [string, string, string, string, string, string, string, string, string, string, string];

/**
 * A person out of an entry. What is sealed stands behind getters that are properties of the object itself and are
 * listed, so that spread, JSON and structuredClone see a plain person.
 */
class ListedPerson implements Person {
  readonly id: string;
  readonly programmeId: string;
  declare readonly name: string;
  readonly roles: readonly Role[];
  readonly siteId: string;
  readonly locale: string;
  declare readonly addresses: readonly Address[];
  readonly rank: number;
  readonly state: Person['state'];
  readonly practised: boolean;
  readonly shared: boolean;
  declare readonly offUntil: Person['offUntil'];
  declare readonly dutyHours: Person['dutyHours'];
  readonly #entry: string;
  readonly #open: (entry: string) => SealedPart;
  #part: SealedPart | null = null;

  constructor(programmeId: string, entry: string, open: (entry: string) => SealedPart) {
    const [, , id, roles, siteId, locale, rank, state, practised, shared] = entry.split(
      separator,
    ) as unknown as EntryTexts;
    this.id = id;
    this.programmeId = programmeId;
    this.roles = rolesOf(roles);
    this.siteId = siteId;
    this.locale = locale;
    this.rank = Number(rank);
    this.state = state as Person['state'];
    this.practised = practised === '1';
    this.shared = shared === '1';
    this.#entry = entry;
    this.#open = open;
    Object.defineProperties(this, opening);
  }

  part(): SealedPart {
    this.#part ??= this.#open(this.#entry);
    return this.#part;
  }
}

/** The same getters for everybody: 100,000 objects of one shape. */
const opening: PropertyDescriptorMap = Object.fromEntries(
  (['name', 'addresses', 'offUntil', 'dutyHours'] as const).map((name) => [
    name,
    {
      enumerable: true,
      get(this: ListedPerson) {
        return this.part()[name];
      },
    },
  ]),
);

/** What somebody reads as whose seal does not open: reached by nobody, and never written back. */
const shut: SealedPart = { name: '', addresses: [] };

/**
 * Reads the roster of a programme: everybody by id, those taken off the line too, erased people not. What was read is
 * kept; only people who changed since are read again. A seal that does not open is logged and shuts out nobody else.
 */
export function rosterReader(
  db: Kysely<Tables>,
  dialect: Dialect,
  ring: KeyRing,
  log: Log,
): (programmeId: string) => Steps<readonly Person[]> {
  const statements = rosterStatements(db, dialect);
  const rosters = new Map<string, { version: number; byId: Map<string, Person>; list: readonly Person[] }>();

  const open = (entry: string): SealedPart => {
    const [wrapped, sealed, id, roles, site_id, locale, ...rest] = entry.split(separator) as unknown as EntryTexts;
    const [rank, state, practised, shared, version] = rest;
    try {
      const key = unwrapKey(ring, Buffer.from(wrapped, 'hex'), personKeyId(id));
      const numbers = { rank: Number(rank), practised: Number(practised), shared: Number(shared) };
      const row = { id, version: Number(version), roles, site_id, locale, state, ...numbers };
      return openJson<SealedPart>(key, Buffer.from(sealed, 'hex'), personBound(row));
    } catch (thrown) {
      log.write('error', 'person-unreadable', { code: errorCode(thrown) });
      return shut;
    }
  };

  return function* (programme_id) {
    const version = (yield* one(statements.version, { programme_id }))?.version ?? 0;
    const kept = rosters.get(programme_id);
    if (kept?.version === version) return kept.list;
    const byId = kept?.byId ?? new Map<string, Person>();
    for (const { entry } of yield* all(statements.changed, { programme_id, since: kept?.version ?? -1 })) {
      const person = new ListedPerson(programme_id, entry, open);
      // Without a key: this person was erased.
      if (entry.startsWith(separator)) byId.delete(person.id);
      else byId.set(person.id, person);
    }
    const list = [...byId.values()].sort((a, b) => (a.id < b.id ? -1 : 1));
    rosters.set(programme_id, { version, byId, list });
    return list;
  };
}
