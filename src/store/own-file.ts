import { chmodSync, closeSync, openSync, statSync } from 'node:fs';

const others = 0o077;

/**
 * Makes an empty file for its owner only where there is none, and closes to others one that is there. A file that is
 * there is not opened: closing it would let go of the locks that this process holds on it (fcntl).
 */
export function ownFile(file: string): void {
  const found = statSync(file, { throwIfNoEntry: false });
  try {
    if (!found) closeSync(openSync(file, 'wx', 0o600));
    else if ((found.mode & others) !== 0) chmodSync(file, found.mode & 0o700);
  } catch (thrown) {
    // Made by another process meanwhile, or another user's: opening it says what is wrong, if anything is.
    if (!['EEXIST', 'EPERM', 'EROFS'].includes((thrown as NodeJS.ErrnoException).code ?? '')) throw thrown;
  }
}
