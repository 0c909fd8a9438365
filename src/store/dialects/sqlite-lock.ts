import { readdirSync, readlinkSync, realpathSync } from 'node:fs';
import Database from 'better-sqlite3';
import { ownFile } from '../own-file.ts';
import { StoreError } from '../store-error.ts';

/**
 * Holds `<file>.lock` for the life of the process, so that two lines cannot run on one database. The system frees it
 * when the process ends, however it ends. Returns the way to let go; throws `locked` when somebody else holds it.
 */
export function holdLock(file: string): () => void {
  const path = `${file}.lock`;
  ownFile(path);
  const lock = new Database(path, { timeout: 0 });
  try {
    lock.exec('begin exclusive');
    if (isHeldThoughGone(path)) throw new Error('the file that is locked was taken away');
  } catch (cause) {
    lock.close();
    throw new StoreError('locked', file, cause);
  }
  return () => lock.close();
}

/**
 * Whether a process holds a lock file that stood there before and was taken away: its line still runs. Linux shows what
 * processes of the same user hold open (proc(5)); elsewhere, and of other containers, nothing is seen.
 */
function isHeldThoughGone(path: string): boolean {
  const gone = `${realpathSync(path)} (deleted)`;
  const namesIn = (folder: string): readonly string[] => {
    try {
      return readdirSync(folder);
    } catch {
      return [];
    }
  };
  const isGone = (handle: string): boolean => {
    try {
      return readlinkSync(handle) === gone;
    } catch {
      return false;
    }
  };
  return namesIn('/proc')
    .filter((name) => /^\d+$/.test(name))
    .some((pid) => namesIn(`/proc/${pid}/fd`).some((handle) => isGone(`/proc/${pid}/fd/${handle}`)));
}

/** True while a line holds the database: `restore` refuses then. */
export function isLocked(file: string): boolean {
  try {
    holdLock(file)();
    return false;
  } catch (thrown) {
    if (thrown instanceof StoreError) return true;
    throw thrown;
  }
}
