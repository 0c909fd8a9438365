/** Backups of the embedded database: made while the line runs, sealed, and proven by reading them back. */

import type { KeyObject } from 'node:crypto';
import { renameSync, rmSync, statSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { openBackup, sealFile } from './backup-seal.ts';
import { copyDatabase, isSound, rowCounts } from './dialects/sqlite-copy.ts';
import { type Erasure, erasureListName, mergeErasures, readErasureList, writeErasureList } from './erasure-list.ts';
import type { KeyRing } from './keys.ts';
import { openStore } from './open.ts';
import { inScratch } from './scratch.ts';
import { StoreError } from './store-error.ts';
import { syncFolder } from './whole-file.ts';

export interface Backup {
  readonly rows: number;
  readonly cases: number;
  readonly erased: number;
  readonly bytes: number;
  /** One line each; a fault of the database is in its backup too, and is said. */
  readonly faults: readonly string[];
  /** False: the database was written by an older version, which may have to go on with it. */
  readonly current: boolean;
}

/**
 * Copies the database `file` as it is at one instant, seals the copy into `to`, reads `to` back into a scratch
 * database, and compares: every table's rows, the file's soundness, every chain. The list of erasures is brought up to
 * date beside it. `to` appears only when all that is done; it is never overwritten. What is not sealed stands in a folder
 * of its own beside the database (`scratch.ts`). Throws `bad-backup` when what was read back is not what was copied,
 * `locked` while another backup of this database runs.
 */
export async function makeBackup(
  file: string,
  to: string,
  by: { readonly ring: KeyRing; readonly publicKey: KeyObject; readonly at: number },
): Promise<Backup> {
  const sealed = `${to}.partial`;
  return inScratch(file, dirname(to), async (folder) => {
    const copy = join(folder, 'copy.db');
    const scratch = join(folder, 'read-back.db');
    rmSync(sealed, { force: true });
    try {
      copyDatabase(file, copy);
      const { key } = sealFile(copy, sealed, by.publicKey, { at: by.at, dataKey: by.ring.fingerprint });
      openBackup(sealed, scratch, { key });
      const counts = rowCounts(copy);
      if (!isSound(scratch)) throw new StoreError('bad-backup', 'integrity');
      if (JSON.stringify(rowCounts(scratch)) !== JSON.stringify(counts)) throw new StoreError('bad-backup', 'rows');
      const found = await look(scratch, by.ring);
      // Looking brought the scratch up to date, and so told whether there was anything to bring.
      const current = rowCounts(scratch)[migrationsTable] === counts[migrationsTable];
      const list = join(dirname(to), erasureListName);
      writeErasureList(list, by.ring, mergeErasures(readErasureList(list, by.ring), found.erasures));
      renameSync(sealed, to);
      syncFolder(dirname(to));
      const rows = Object.values(counts).reduce((sum, one) => sum + one, 0);
      const { cases, erased, faults } = found;
      return { rows, cases, erased, bytes: statSync(to).size, faults, current };
    } finally {
      rmSync(sealed, { force: true });
    }
  });
}

/** Where the engine keeps which changes of the tables were made. */
const migrationsTable = 'kysely_migration';

async function look(
  scratch: string,
  ring: KeyRing,
): Promise<{ cases: number; erased: number; faults: readonly string[]; erasures: readonly Erasure[] }> {
  const store = await openStore({ url: `sqlite:${scratch}`, keys: ring, exclusive: false });
  try {
    const { cases, erased, faults } = await store.audit();
    return { cases, erased: erased.length, faults, erasures: await store.erasures() };
  } finally {
    await store.close();
  }
}
