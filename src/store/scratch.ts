/** The folder in which a backup works: what stands there is not sealed, so it is never among the backups. */
import { existsSync, mkdirSync, readdirSync, rmSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { holdLock } from './dialects/sqlite-lock.ts';
import { StoreError } from './store-error.ts';

/** What versions before this folder left beside their backups when they were killed, and a sealed file that was not finished. */
const leftBeside = /\.backup\.(copy|scratch|partial)(-(wal|shm|journal))?$/;

const folderOf = (file: string): string => join(dirname(file), 'backup-scratch');

/** Held while a backup of this database runs, freed by the system however it ends. */
const lockOf = (file: string): string => `${file}.backup`;

/**
 * Works in an empty folder for the owner only, beside the database `file`; it is gone afterwards, and so is what a
 * killed run before left in it or among the backups in `target`. Throws `locked` while another backup runs.
 */
export async function inScratch<T>(file: string, target: string, work: (folder: string) => Promise<T>): Promise<T> {
  const letGo = holdLock(lockOf(file));
  const folder = folderOf(file);
  const remove = (): void => rmSync(folder, { recursive: true, force: true });
  try {
    remove();
    for (const name of readdirSync(target)) if (leftBeside.test(name)) rmSync(join(target, name), { force: true });
    mkdirSync(folder, { mode: 0o700 });
    return await work(folder);
  } finally {
    remove();
    letGo();
  }
}

/** Removes what a killed backup of this database left, unless one runs now. */
export function clearScratch(file: string): void {
  if (!existsSync(folderOf(file))) return;
  let letGo: () => void;
  try {
    letGo = holdLock(lockOf(file));
  } catch (thrown) {
    if (thrown instanceof StoreError && thrown.code === 'locked') return;
    throw thrown;
  }
  try {
    rmSync(folderOf(file), { recursive: true, force: true });
  } finally {
    letGo();
  }
}
