/** Bringing a backup back into an empty data folder. */

import type { KeyObject } from 'node:crypto';
import { existsSync, renameSync, rmSync } from 'node:fs';
import { dirname } from 'node:path';
import type { Case } from '../case/case.ts';
import { errorCode } from '../text/error-code.ts';
import { openBackup } from './backup-seal.ts';
import { keyMarkOf } from './dialects/sqlite-copy.ts';
import { type ErasureReason, erasureReasons } from './erase.ts';
import type { Erasure } from './erasure-list.ts';
import type { KeyRing } from './keys.ts';
import { openStore } from './open.ts';
import type { LineStore } from './store.ts';
import { StoreError } from './store-error.ts';
import { syncFolder } from './whole-file.ts';

export interface Restored {
  /** When the backup was made, epoch ms: what happened later is not known. */
  readonly madeAt: number;
  readonly cases: number;
  /** Erased again from the list. */
  readonly erasedAgain: number;
  readonly held: number;
  readonly sent: number;
  readonly faults: readonly string[];
}

export interface RestoreOptions {
  readonly ring: KeyRing;
  readonly privateKey: KeyObject;
  readonly erasures: readonly Erasure[];
  /** How many erasures there were at least, as the newest morning text says; null = not known. */
  readonly erasedAtLeast: number | null;
  readonly now: number;
  readonly dueAtOf: (of: Case) => number | null;
  /** Called on the restored store before it takes its place. */
  readonly beforeUse: (store: LineStore, restored: Omit<Restored, 'faults'>) => Promise<void>;
}

/**
 * Opens the backup, erases again what the list says, holds what waited to be sent, checks every chain, and only then
 * puts the database in its place, which must be empty. Timers keep their instants: those past are due at the start.
 * Throws `locked` when there is a database already, `wrong-key` when the rows are sealed with another key file,
 * `bad-backup-key`, `bad-backup`.
 */
export async function restoreBackup(backup: string, file: string, options: RestoreOptions): Promise<Restored> {
  if (existsSync(file) || existsSync(`${file}-wal`)) throw new StoreError('locked', file);
  const fresh = `${file}.restoring`;
  const remove = (): void => {
    for (const suffix of ['', '-wal', '-shm', '-journal']) rmSync(`${fresh}${suffix}`, { force: true });
  };
  remove();
  const { erasures, erasedAtLeast } = options;
  if (erasedAtLeast !== null && erasures.length < erasedAtLeast) {
    throw new StoreError('old-erasure-list', `${erasures.length} of ${erasedAtLeast}`);
  }
  try {
    const header = openBackup(backup, fresh, options);
    if (header.dataKey !== options.ring.fingerprint) throw new StoreError('wrong-key', 'key file');
    // Whoever has the public half of the pair can seal anything.
    if (keyMarkOf(fresh) !== header.dataKey) throw new StoreError('bad-backup', 'no database of the line');
    const { ring, dueAtOf } = options;
    const store = await openStore({ url: `sqlite:${fresh}`, keys: ring, dueAtOf, exclusive: false });
    let restored: Restored;
    try {
      const listed = new Set(erasures.map((one) => one.keyId));
      const missing = (await store.erasures()).filter((one) => !listed.has(one.keyId)).length;
      if (missing > 0) throw new StoreError('old-erasure-list', `${missing} that the backup knows are not in it`);
      let erasedAgain = 0;
      for (const erasure of erasures) erasedAgain += (await eraseAgain(store, erasure)) ? 1 : 0;
      await store.scrub();
      const { held, sent } = await store.settleRestored(options.now);
      const { cases, faults } = await store.audit();
      restored = { madeAt: header.at, cases, erasedAgain, held, sent, faults };
      await options.beforeUse(store, restored);
    } finally {
      await store.close();
    }
    renameSync(fresh, file);
    syncFolder(dirname(file));
    return restored;
  } catch (thrown) {
    throw asBackupFault(thrown);
  } finally {
    remove();
  }
}

/** A database that does not open, or whose rows do not, is a fault of the backup; a full disk is not. */
function asBackupFault(thrown: unknown): unknown {
  const ofTheRows = thrown instanceof StoreError && ['unreadable', 'erased', 'broken-history'].includes(thrown.code);
  const ofTheFile = /^SQLITE_(ERROR|CORRUPT|NOTADB|MISMATCH|CONSTRAINT|SCHEMA)/.test(errorCode(thrown));
  return ofTheRows || ofTheFile ? new StoreError('bad-backup', 'database', thrown) : thrown;
}

function eraseAgain(store: LineStore, { keyId, at, reason }: Erasure): Promise<boolean> {
  const known = erasureReasons.find((one): one is ErasureReason => one === reason);
  const [kind, id] = [keyId.slice(0, keyId.indexOf(':')), keyId.slice(keyId.indexOf(':') + 1)];
  return kind === 'person' ? store.erasePerson(id, at, known) : store.eraseCase(id, at, known);
}
