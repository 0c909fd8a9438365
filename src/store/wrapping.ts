/** Data keys under a wrapping key, and changing that one for all of them. */
import type { Kysely } from 'kysely';
import { sql } from 'kysely';
import type { KeyRing } from './keys.ts';
import type { Tables } from './schema.ts';
import { openSealed, type SealKey, seal } from './seal.ts';
import { all, change, reading, rowsAtMost, type Steps, slot, writing } from './statement.ts';
import { StoreError } from './store-error.ts';

/** Marks a key under a later wrapping key; what has no mark is under version 1. */
const laterByte = 2;
const headBytes = 5;

/** The version of the wrapping key that these bytes are under. */
export function wrappingVersion(wrapped: Uint8Array): number {
  return wrapped[0] === laterByte ? Buffer.from(wrapped).readUInt32BE(1) : 1;
}

/** Wraps a data key for the row called `id`. */
export function wrapKey(ring: KeyRing, raw: SealKey, id: string): Buffer {
  const { current, byVersion } = ring.wrapping;
  const sealed = seal(byVersion.get(current)!, raw, id);
  if (current === 1) return sealed;
  const head = Buffer.alloc(headBytes);
  head[0] = laterByte;
  head.writeUInt32BE(current, 1);
  return Buffer.concat([head, sealed]);
}

/** Throws `wrong-key` when the key file does not hold the wrapping key any more, `unreadable` for damaged bytes. */
export function unwrapKey(ring: KeyRing, wrapped: Buffer, id: string): SealKey {
  const version = wrappingVersion(wrapped);
  const key = ring.wrapping.byVersion.get(version);
  if (!key) throw new StoreError('wrong-key', `wrapping key ${version}`);
  return openSealed(key, version === 1 ? wrapped : wrapped.subarray(headBytes), id);
}

export type WrappingStatements = ReturnType<typeof wrappingStatements>;

export function wrappingStatements(db: Kysely<Tables>) {
  return {
    page: reading<{ after: string; limit: number }, { id: string; wrapped: Buffer }>(
      'wrappedPage',
      sql`select id, wrapped from data_keys where id > ${slot('after')} and wrapped is not null
        order by id limit ${rowsAtMost('limit')}`.compile(db),
    ),
    rewrap: writing<{ id: string; before: Buffer; wrapped: Buffer }>(
      'rewrap',
      sql`update data_keys set wrapped = ${slot('wrapped')} where id = ${slot('id')} and wrapped = ${slot('before')}`.compile(
        db,
      ),
    ),
  };
}

/**
 * Brings up to `limit` data keys after `after` under the current wrapping key, in one transaction. `last` is where the
 * next call goes on, null at the end. May be begun again at any time: what is done is left alone.
 */
export function* rewrapSome(
  ring: KeyRing,
  statements: WrappingStatements,
  after: string,
  limit: number,
): Steps<{ last: string | null; changed: number }> {
  const rows = yield* all(statements.page, { after, limit });
  let changed = 0;
  for (const { id, wrapped } of rows) {
    if (wrappingVersion(wrapped) === ring.wrapping.current) continue;
    const again = wrapKey(ring, unwrapKey(ring, wrapped, id), id);
    changed += yield* change(statements.rewrap, { id, before: wrapped, wrapped: again });
  }
  return { last: rows.length < limit ? null : rows.at(-1)!.id, changed };
}
