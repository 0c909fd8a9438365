/** Events whose handling failed twice, kept sealed for a human. */
import type { Kysely } from 'kysely';
import type { LineEvent } from '../conversation/event.ts';
import type { Parked } from '../line/ports.ts';
import type { Context } from './context.ts';
import { keyIdFor, strangerKeyId, type WrappedKey } from './data-keys.ts';
import { addressHash } from './keys.ts';
import type { Plan } from './plan.ts';
import { slots } from './rows.ts';
import type { ParkedTable, Tables } from './schema.ts';
import { openJson, type SealKey, sealJson } from './seal.ts';
import { ifOpens, isShut } from './shut.ts';
import { all, one, reading, type Steps, slot, writing } from './statement.ts';

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

export function parkedBound(id: string): string {
  return `parked:${id}`;
}

/** A seed is bytes, which JSON cannot hold. */
type Stored = Omit<LineEvent, 'seed'> & { readonly seed: string };

/**
 * Plans to keep an event for a human, under its own key, or under that of strangers where its own was destroyed or does
 * not open.
 */
export function* putParked(
  context: Context,
  plan: Plan,
  statements: ParkedStatements,
  by: { readonly event: LineEvent; readonly code: string },
  at: number,
): Steps<void> {
  const { event, code } = by;
  const { keyId, key } = yield* writableKey(context, event);
  const stored: Stored = { ...event, seed: Buffer.from(event.seed).toString('base64') };
  plan.may(statements.insert, {
    id: event.id,
    programme_id: event.programmeId,
    at,
    code,
    key_id: keyId,
    sealed: sealJson(key, stored, parkedBound(event.id)),
  });
}

function* writableKey(context: Context, event: LineEvent): Steps<{ keyId: string; key: SealKey }> {
  const { programmeId, at } = event;
  const own = yield* keyIdOf(context, event);
  try {
    return { keyId: own, key: yield* context.keys.obtain(own, programmeId) };
  } catch (thrown) {
    if (!isShut(thrown)) throw thrown;
    const keyId = strangerKeyId(programmeId, at);
    return { keyId, key: yield* context.keys.obtain(keyId, programmeId) };
  }
}

function* keyIdOf(context: Context, event: LineEvent): Steps<string> {
  const { programmeId, at } = event;
  const personId = yield* personIdOf(context, event);
  return keyIdFor({ caseId: event.kind === 'due' ? event.due.caseId : null, personId, programmeId, at });
}

/** Whose text it was, or for whom it was due. */
function* personIdOf(context: Context, event: LineEvent): Steps<string | null> {
  if (event.kind === 'due') return event.due.personId;
  const hash = addressHash(context.ring, event.programmeId, event.from);
  const found = yield* one(context.hot.personByAddress, { programme_id: event.programmeId, hash });
  return found?.id ?? null;
}

/** What is parked, oldest first; what does not open, erased or damaged, is left out. */
export function* parkedList(context: Context, statements: ParkedStatements): Steps<readonly Parked[]> {
  const rows = yield* all(statements.list, {});
  const parked: Parked[] = [];
  for (const row of rows) {
    const stored = ifOpens(() => {
      const key = context.keys.unwrap(row.key_id, row);
      return key && openJson<Stored>(key, row.sealed, parkedBound(row.id));
    });
    if (!stored) continue;
    const event = { ...stored, seed: new Uint8Array(Buffer.from(stored.seed, 'base64')) } as LineEvent;
    parked.push({ id: row.id, at: row.at, event, code: row.code, personId: yield* personIdOf(context, event) });
  }
  return parked;
}
