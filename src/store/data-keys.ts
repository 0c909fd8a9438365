/**
 * One key for each case and each person, wrapped by the master key's. Destroying one is erasing everything sealed
 * under it. Strangers share a key by month, so that their texts can go as a whole.
 */
import { randomBytes } from 'node:crypto';
import type { HotStatements } from './hot.ts';
import type { KeyRing } from './keys.ts';
import { type Recent, recent } from './recent.ts';
import type { SealKey } from './seal.ts';
import { change, one, type Steps } from './statement.ts';
import { StoreError } from './store-error.ts';
import { unwrapKey, wrapKey } from './wrapping.ts';

const keyBytes = 32;
/** Unwrapped keys kept in memory. */
const keptKeys = 4_000;

export function caseKeyId(caseId: string): string {
  return `case:${caseId}`;
}

export function personKeyId(personId: string): string {
  return `person:${personId}`;
}

/** Key of what strangers send and get in one UTC month. */
export function strangerKeyId(programmeId: string, at: number): string {
  return `stranger:${programmeId}:${new Date(at).toISOString().slice(0, 7)}`;
}

/** The key that seals something of a case, else of a person, else of a stranger. */
export function keyIdFor(of: {
  caseId: string | null;
  personId: string | null;
  programmeId: string;
  at: number;
}): string {
  if (of.caseId !== null) return caseKeyId(of.caseId);
  return of.personId !== null ? personKeyId(of.personId) : strangerKeyId(of.programmeId, of.at);
}

/** A wrapped key as it comes along with a row. */
export interface WrappedKey {
  readonly wrapped: Buffer | null;
  readonly destroyed_at: number | null;
}

/** The keys that one transaction uses. Those it makes are known to others only after `publish`. */
export interface KeySession {
  /** The key from memory, or unwrapped from its row; null when it was destroyed or never made. */
  unwrap(id: string, row: WrappedKey): SealKey | null;
  /**
   * The key from memory or from its table; made when there is none. Throws `erased` when it was destroyed, and
   * `needs-transaction` when it must be made and this session may not.
   */
  obtain(id: string, programmeId: string): Steps<SealKey>;
  /** Makes the key of something new. */
  make(id: string, programmeId: string): Steps<SealKey>;
  publish(): void;
}

export interface KeyVault {
  /** `makes`: runs inside a transaction that keeps the keys it makes. */
  session(makes: boolean): KeySession;
  forget(id: string): void;
}

export function keyVault(ring: KeyRing, hot: HotStatements): KeyVault {
  const known: Recent<string, SealKey> = recent(keptKeys);
  return { session: (makes) => keySession(ring, hot, known, makes), forget: (id) => known.forget(id) };
}

function keySession(ring: KeyRing, hot: HotStatements, known: Recent<string, SealKey>, makes: boolean): KeySession {
  const fresh = new Map<string, SealKey>();
  const open = (id: string, wrapped: Buffer): SealKey => unwrapKey(ring, wrapped, id);

  const session: KeySession = {
    unwrap(id, row) {
      if (row.destroyed_at !== null || row.wrapped === null) {
        known.forget(id);
        return null;
      }
      const kept = fresh.get(id) ?? known.get(id);
      if (kept) return kept;
      const key = open(id, row.wrapped);
      known.put(id, key);
      return key;
    },
    *obtain(id, programmeId) {
      const kept = fresh.get(id) ?? known.get(id);
      if (kept) return kept;
      const row = yield* one(hot.keyById, { id });
      if (!row) return yield* session.make(id, programmeId);
      if (row.destroyed_at !== null || row.wrapped === null) throw new StoreError('erased', id);
      const key = open(id, row.wrapped);
      fresh.set(id, key);
      return key;
    },
    *make(id, programmeId) {
      if (!makes) throw new StoreError('needs-transaction', id);
      const raw = randomBytes(keyBytes);
      const wrapped = wrapKey(ring, raw, id);
      const made = yield* change(hot.insertKey, { id, programme_id: programmeId, wrapped, destroyed_at: null });
      if (made === 0) {
        const row = yield* one(hot.keyById, { id });
        if (!row || row.wrapped === null) throw new StoreError('erased', id);
        return open(id, row.wrapped);
      }
      fresh.set(id, raw);
      return raw;
    },
    publish() {
      for (const [id, key] of fresh) known.put(id, key);
    },
  };
  return session;
}
