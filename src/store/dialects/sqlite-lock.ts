import Database from 'better-sqlite3';
import { StoreError } from '../store-error.ts';

/**
 * Holds `<file>.lock` for the life of the process, so that two lines cannot run on one database. The system frees it
 * when the process ends, however it ends. Returns the way to let go; throws `locked` when somebody else holds it.
 */
export function holdLock(file: string): () => void {
  const lock = new Database(`${file}.lock`, { timeout: 0 });
  try {
    lock.exec('begin exclusive');
  } catch (cause) {
    lock.close();
    throw new StoreError('locked', file, cause);
  }
  return () => lock.close();
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
