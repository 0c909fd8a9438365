/** Events whose handling failed twice, kept sealed for a human. */
import type { Kysely } from 'kysely';
import type { LineEvent } from '../conversation/event.ts';
import type { Parked } from '../line/ports.ts';
import type { Context } from './context.ts';
import { keyIdFor, type WrappedKey } from './data-keys.ts';
import { doneDue } from './due.ts';
import { addressHash, eventKeyHash } from './keys.ts';
import { Plan } from './plan.ts';
import { slots } from './rows.ts';
import type { ParkedTable, Tables } from './schema.ts';
import { openJson, sealJson } from './seal.ts';
import { all, change, one, reading, type Steps, slot, writing } from './statement.ts';

export type ParkedStatements = ReturnType<typeof parkedStatements>;

export function parkedStatements(db: Kysely<Tables>) {
  return {
    insert: writing<ParkedTable>(
      'parkedInsert',
      db
        .insertInto('parked')
        .values(slots(['id', 'programme_id', 'at', 'code', 'key_id', 'sealed']))
        .onConflict((on) => on.doNothing()),
    ),
    drop: writing<{ id: string }>('parkedDrop', db.deleteFrom('parked').where('id', '=', slot('id'))),
    list: reading<Record<string, never>, ParkedTable & WrappedKey>(
      'parkedList',
      db
        .selectFrom('parked as q')
        .leftJoin('data_keys as k', 'k.id', 'q.key_id')
        .selectAll('q')
        .select(['k.wrapped', 'k.destroyed_at'])
        .orderBy('q.at')
        .orderBy('q.id'),
    ),
  };
}

/** A seed is bytes, which JSON cannot hold. */
type Stored = Omit<LineEvent, 'seed'> & { readonly seed: string };

/**
 * Keeps the event, counts it as seen (its provider may be told so) and takes its due row off the table, so that it
 * does not come again by itself.
 */
export function* park(
  context: Context,
  statements: ParkedStatements,
  event: LineEvent,
  code: string,
  at: number,
): Steps<void> {
  const keyId = yield* keyIdOf(context, event);
  const key = yield* context.keys.obtain(keyId, event.programmeId);
  const stored: Stored = { ...event, seed: Buffer.from(event.seed).toString('base64') };
  for (const one of event.keys) {
    const row = { key: eventKeyHash(context.ring, event.programmeId, one), programme_id: event.programmeId, at };
    yield* change(context.hot.insertSeen, row);
  }
  if (event.kind === 'due') {
    const plan = new Plan();
    doneDue(context, plan, event.due.id);
    yield* plan.perform();
  }
  yield* change(statements.insert, {
    id: event.id,
    programme_id: event.programmeId,
    at,
    code,
    key_id: keyId,
    sealed: sealJson(key, stored, `parked:${event.id}`),
  });
}

function* keyIdOf(context: Context, event: LineEvent): Steps<string> {
  const { programmeId, at } = event;
  if (event.kind === 'due')
    return keyIdFor({ caseId: event.due.caseId, personId: event.due.personId, programmeId, at });
  const hash = addressHash(context.ring, programmeId, event.from);
  const person = yield* one(context.hot.personByAddress, { programme_id: programmeId, hash });
  return keyIdFor({ caseId: null, personId: person?.id ?? null, programmeId, at });
}

/** What is parked, oldest first; what was erased is left out. */
export function* parkedList(context: Context, statements: ParkedStatements): Steps<readonly Parked[]> {
  const rows = yield* all(statements.list, {});
  return rows.flatMap((row) => {
    const key = context.keys.unwrap(row.key_id, row);
    if (!key) return [];
    const stored = openJson<Stored>(key, row.sealed, `parked:${row.id}`);
    const event = { ...stored, seed: new Uint8Array(Buffer.from(stored.seed, 'base64')) } as LineEvent;
    return [{ id: row.id, at: row.at, event, code: row.code }];
  });
}
