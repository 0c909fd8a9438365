/** Whether people are who the line wrote: their keys and seals open, and their addresses lead to them. */
import { type Kysely, sql } from 'kysely';
import type { Context } from './context.ts';
import { personKeyId } from './data-keys.ts';
import { addressHash } from './keys.ts';
import { eachPage, pageSize } from './pages.ts';
import { personBound, type SealedPart } from './people.ts';
import type { Tables } from './schema.ts';
import { openJson } from './seal.ts';
import { ifOpens } from './shut.ts';
import { unwrapKey } from './wrapping.ts';

/** One line for each key of a person or a stranger that does not open. Those of cases are tried with their cases. */
export async function keyFaults(db: Kysely<Tables>, context: Context): Promise<readonly string[]> {
  const faults: string[] = [];
  await eachPage(
    (after) =>
      db
        .selectFrom('data_keys')
        .select(['id', 'wrapped'])
        .where('id', '>', after)
        .where('id', 'not like', 'case:%')
        .where('destroyed_at', 'is', null)
        .orderBy('id')
        .limit(pageSize)
        .execute(),
    ({ id, wrapped }) => {
      const opens = wrapped !== null && ifOpens(() => unwrapKey(context.ring, wrapped, id)) !== null;
      if (!opens) faults.push(`${id}: its key does not open`);
    },
  );
  return faults;
}

/** One line for each person whose seal does not open beside the columns, and for each address that is not its person's. */
export async function peopleFaults(db: Kysely<Tables>, context: Context): Promise<readonly string[]> {
  const faults: string[] = [];
  /** Everybody's addresses by their hashes, with whether somebody must be found there. */
  const theirs = new Map<string, Map<string, boolean>>();
  const shut = new Set<string>();
  await eachPage(
    (after) =>
      db
        .selectFrom('people as p')
        .leftJoin('data_keys as k', (join) => join.on('k.id', '=', sql`'person:' || p.id`))
        .selectAll('p')
        .select(['k.wrapped', 'k.destroyed_at'])
        .where('p.id', '>', after)
        .orderBy('p.id')
        .limit(pageSize)
        .execute(),
    (row) => {
      const key = ifOpens(() => context.keys.unwrap(personKeyId(row.id), row));
      const part = key && ifOpens(() => openJson<SealedPart>(key, row.sealed, personBound(row)));
      if (!part) shut.add(row.id);
      if (key && !part) faults.push(`person ${row.id}: does not open beside roles, site and standing`);
      for (const address of part?.addresses ?? []) {
        const hash = addressHash(context.ring, row.programme_id, address).toString('hex');
        const holders = theirs.get(hash) ?? new Map<string, boolean>();
        // Somebody else may have the number of a person who is off the line.
        theirs.set(hash, holders.set(row.id, row.state !== 'suspended'));
      }
    },
  );
  for (const { hash, person_id } of await db.selectFrom('addresses').select(['hash', 'person_id']).execute()) {
    const holders = theirs.get(hash.toString('hex'));
    if (!holders?.has(person_id) && !shut.has(person_id))
      faults.push(`person ${person_id}: an address that is not theirs`);
    holders?.set(person_id, false);
  }
  for (const holders of theirs.values()) {
    for (const [id, owed] of holders) if (owed) faults.push(`person ${id}: an address of theirs leads to nobody`);
  }
  return faults;
}
