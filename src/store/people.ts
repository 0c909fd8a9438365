/** The roster: people, their addresses and invitations. */
import { type Kysely, sql } from 'kysely';
import { assertNever } from '../clinical/assert-never.ts';
import type { RosterChange } from '../conversation/effect.ts';
import { isLink } from '../conversation/join-link.ts';
import type { Invitation, Person, Role } from '../conversation/world.ts';
import type { Context } from './context.ts';
import { personKeyId, type WrappedKey } from './data-keys.ts';
import type { Ended } from './dialects/dialect.ts';
import { addressHash } from './keys.ts';
import { type InvitationRow, slots } from './rows.ts';
import type { AddressesTable, InvitationsTable, PeopleTable, Tables } from './schema.ts';
import { openJson, sealJson } from './seal.ts';
import { ifOpens } from './shut.ts';
import { all, change, one, reading, rowsAtMost, type Steps, slot, writing } from './statement.ts';
import { StoreError } from './store-error.ts';

/** What of a person is read by nobody but us. */
export type SealedPart = Pick<Person, 'name' | 'addresses' | 'offUntil' | 'dutyHours'>;

export type PeopleStatements = ReturnType<typeof peopleStatements>;

export function peopleStatements(db: Kysely<Tables>) {
  const columns = [
    'id',
    'programme_id',
    'roles',
    'site_id',
    'locale',
    'rank',
    'state',
    'practised',
    'shared',
    'version',
    'sealed',
  ] as const;
  const rosterVersion = sql<number>`(select version from rosters where programme_id = ${slot('programme_id')})`;
  return {
    personVersion: reading<{ id: string }, Pick<PeopleTable, 'version'>>(
      'personVersion',
      db.selectFrom('people').select('version').where('id', '=', slot('id')),
    ),
    putPerson: writing<Omit<PeopleTable, 'changed_in'>>(
      'putPerson',
      db
        .insertInto('people')
        .values({ ...slots(columns), changed_in: rosterVersion })
        .onConflict((on) =>
          on.column('id').doUpdateSet({
            ...slots(['roles', 'site_id', 'locale', 'rank', 'state', 'practised', 'shared', 'version', 'sealed']),
            changed_in: sql`excluded.changed_in`,
          }),
        ),
    ),
    dropTexts: writing<{ person_id: string }>(
      'dropTextsOf',
      sql`update messages set status = 'expired'
        where recipient = ${slot('person_id')} and direction = 'out' and status = 'queued'`.compile(db),
    ),
    dropAddresses: writing<{ person_id: string }>(
      'dropAddresses',
      db.deleteFrom('addresses').where('person_id', '=', slot('person_id')),
    ),
    addressHolder: reading<{ programme_id: string; hash: Buffer }, { person_id: string; state: string }>(
      'addressHolder',
      db
        .selectFrom('addresses as a')
        .innerJoin('people as p', 'p.id', 'a.person_id')
        .select(['a.person_id', 'p.state'])
        .where('a.programme_id', '=', slot('programme_id'))
        .where('a.hash', '=', slot('hash')),
    ),
    dropAddress: writing<{ programme_id: string; hash: Buffer }>(
      'dropAddress',
      db.deleteFrom('addresses').where('programme_id', '=', slot('programme_id')).where('hash', '=', slot('hash')),
    ),
    insertAddress: writing<AddressesTable>(
      'insertAddress',
      db.insertInto('addresses').values(slots(['programme_id', 'hash', 'person_id'])),
    ),
    bumpRoster: writing<{ programme_id: string }>(
      'bumpRoster',
      db
        .insertInto('rosters')
        .values({ programme_id: slot('programme_id'), version: sql<number>`1` })
        .onConflict((on) => on.column('programme_id').doUpdateSet({ version: sql`rosters.version + 1` })),
    ),
    bumpRosterOf: writing<{ id: string }>(
      'bumpRosterOf',
      sql`update rosters set version = version + 1
        where programme_id = (select programme_id from people where id = ${slot('id')})`.compile(db),
    ),
    leave: writing<{ id: string }>(
      'leave',
      sql`update people set state = 'stopped', version = version + 1,
        changed_in = (select r.version from rosters r where r.programme_id = people.programme_id)
        where id = ${slot('id')} and state = 'joined'`.compile(db),
    ),
    talking: reading<{ programme_id: string; after: string; limit: number }, { person_id: string }>(
      'talking',
      db
        .selectFrom('conversations')
        .select('person_id')
        .where('programme_id', '=', slot('programme_id'))
        .where('person_id', '>', slot('after'))
        .orderBy('person_id')
        .limit(rowsAtMost('limit')),
    ),
    putInvitation: writing<InvitationsTable>(
      'putInvitation',
      db
        .insertInto('invitations')
        .values(slots(['id', 'programme_id', 'person_id', 'valid_until', 'wrong_tries', 'used', 'sealed']))
        .onConflict((on) => on.column('id').doUpdateSet(slots(['valid_until', 'wrong_tries', 'used', 'sealed']))),
    ),
    invitationUsed: writing<{ id: string }>(
      'invitationUsed',
      db.updateTable('invitations').set({ used: sql`1` }).where('id', '=', slot('id')).where(sql<boolean>`used = 0`),
    ),
    invitationMissed: writing<{ id: string }>(
      'invitationMissed',
      db
        .updateTable('invitations')
        .set({ wrong_tries: sql`wrong_tries + 1` })
        .where('id', '=', slot('id'))
        .where(sql<boolean>`used = 0`),
    ),
  };
}

/** The row of a person without its seal: all of it decides what the person may do. */
type OpenPerson = Omit<PeopleTable, 'changed_in' | 'sealed' | 'programme_id'>;

/** What is sealed of a person opens only beside the roles, site and standing that it was sealed with. */
export function personBound(row: OpenPerson): string {
  const { id, version, roles, site_id, locale, rank, state, practised, shared } = row;
  return JSON.stringify([personKeyId(id), version, roles, site_id, locale, rank, state, practised, shared]);
}

function sealedPart({ name, addresses, offUntil, dutyHours }: Person): SealedPart {
  return {
    name,
    addresses,
    ...(offUntil === undefined ? {} : { offUntil }),
    ...(dutyHours === undefined ? {} : { dutyHours }),
  };
}

const roleLists = new Map<string, readonly Role[]>();

/** The roles of a row; rows with the same ones share a list. */
export function rolesOf(text: string): readonly Role[] {
  const known = roleLists.get(text);
  if (known) return known;
  const roles = text.split(' ').filter((role) => role !== '') as Role[];
  roleLists.set(text, roles);
  return roles;
}

/** The person of a row; null when the person's key was destroyed. */
export function personOf(context: Context, row: PeopleTable & WrappedKey): Person | null {
  const keyId = personKeyId(row.id);
  const key = context.keys.unwrap(keyId, row);
  if (!key) return null;
  const kept = context.memory.people.get(row.id);
  if (kept?.version === row.version) return kept.person;
  const sealed = openJson<SealedPart>(key, row.sealed, personBound(row));
  const person: Person = {
    id: row.id,
    programmeId: row.programme_id,
    name: sealed.name,
    roles: rolesOf(row.roles),
    siteId: row.site_id,
    locale: row.locale,
    addresses: sealed.addresses,
    ...(sealed.offUntil === undefined ? {} : { offUntil: sealed.offUntil }),
    ...(sealed.dutyHours === undefined ? {} : { dutyHours: sealed.dutyHours }),
    rank: row.rank,
    state: row.state as Person['state'],
    practised: row.practised === 1,
    shared: row.shared === 1,
  };
  context.memory.people.put(row.id, { version: row.version, person });
  return person;
}

export function invitationBound(id: string): string {
  return `invitation:${id}`;
}

/** The newest invitation of a person by number, or by link: each kind voids its own former ones only. */
export function* invitationFor(
  context: Context,
  personId: string,
  kind: 'number' | 'link' = 'number',
): Steps<Invitation | null> {
  for (const row of yield* all(context.hot.invitationOf, { person_id: personId })) {
    const invitation = yield* opened(context, personId, row);
    if (invitation && isLink(invitation) === (kind === 'link')) return invitation;
  }
  return null;
}

/** Opened with its person's key; one that does not open invites nobody. */
function* opened(context: Context, personId: string, row: InvitationRow): Steps<Invitation | null> {
  const key = yield* context.keys.obtain(personKeyId(personId), row.programme_id);
  const number = ifOpens(() => openJson<string>(key, row.sealed, invitationBound(row.id)));
  if (number === null) return null;
  return {
    id: row.id,
    personId: row.person_id,
    programmeId: row.programme_id,
    number,
    validUntil: row.valid_until,
    wrongTries: row.wrong_tries,
    used: row.used === 1,
  };
}

/**
 * Writes a person with all addresses. Throws `address-taken` when one of them belongs to somebody else who is not
 * suspended: two people behind one address would read each other's patients; `unreadable` for a person without a name,
 * which only one has whose seal did not open (`roster.ts`): writing them back would lose them for good.
 */
export function* putPerson(context: Context, statements: PeopleStatements, person: Person): Steps<void> {
  if (person.name === '') throw new StoreError('unreadable', person.id);
  const keyId = personKeyId(person.id);
  const key = yield* context.keys.obtain(keyId, person.programmeId);
  yield* change(statements.bumpRoster, { programme_id: person.programmeId });
  const before = yield* one(statements.personVersion, { id: person.id });
  const row = {
    id: person.id,
    programme_id: person.programmeId,
    roles: person.roles.join(' '),
    site_id: person.siteId,
    locale: person.locale,
    rank: person.rank,
    state: person.state,
    practised: person.practised ? 1 : 0,
    shared: person.shared ? 1 : 0,
    version: (before?.version ?? 0) + 1,
  };
  yield* change(statements.putPerson, { ...row, sealed: sealJson(key, sealedPart(person), personBound(row)) });
  yield* change(statements.dropAddresses, { person_id: person.id });
  for (const address of person.addresses) {
    const place = { programme_id: person.programmeId, hash: addressHash(context.ring, person.programmeId, address) };
    const holder = yield* one(statements.addressHolder, place);
    if (holder?.person_id === person.id) continue;
    if (holder && holder.state !== 'suspended') throw new StoreError('address-taken', person.id);
    if (holder) yield* change(statements.dropAddress, place);
    yield* change(statements.insertAddress, { ...place, person_id: person.id });
  }
}

/** Takes somebody off the line who asks for it, also one whose seal does not open. */
function* leave(context: Context, statements: PeopleStatements, id: string): Steps<void> {
  const row = yield* one(context.hot.personById, { id });
  const person = row ? ifOpens(() => personOf(context, row)) : null;
  if (person && person.state !== 'joined') return;
  if (person) return yield* putPerson(context, statements, { ...person, state: 'stopped' });
  yield* change(statements.bumpRosterOf, { id });
  yield* change(statements.leave, { id });
}

/** Applies one change of the roster. `conflict`: the invitation was used meanwhile. */
export function* changeRoster(context: Context, statements: PeopleStatements, by: RosterChange): Steps<Ended> {
  switch (by.kind) {
    case 'put-person':
      yield* putPerson(context, statements, by.person);
      return 'committed';
    case 'invite': {
      const { invitation } = by;
      const key = yield* context.keys.obtain(personKeyId(invitation.personId), invitation.programmeId);
      yield* change(statements.putInvitation, {
        id: invitation.id,
        programme_id: invitation.programmeId,
        person_id: invitation.personId,
        valid_until: invitation.validUntil,
        wrong_tries: invitation.wrongTries,
        used: invitation.used ? 1 : 0,
        sealed: sealJson(key, invitation.number, invitationBound(invitation.id)),
      });
      return 'committed';
    }
    case 'leave':
      yield* leave(context, statements, by.personId);
      return 'committed';
    case 'drop-texts':
      yield* change(statements.dropTexts, { person_id: by.personId });
      return 'committed';
    case 'use-invitation': {
      const statement = by.wrongTry ? statements.invitationMissed : statements.invitationUsed;
      const changed = yield* change(statement, { id: by.invitationId });
      return changed === 1 ? 'committed' : 'conflict';
    }
    default:
      return assertNever(by);
  }
}
