import { accessSync, constants, mkdtempSync, rmSync, statfsSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

/** A folder in memory, where the system has one. */
const memory = '/dev/shm';
/** A whole run needs less than a tenth of this; containers often give 64 MB. */
const leastFreeBytes = 500_000_000;

/**
 * Before a run: puts temporary files into memory, since most tests prove nothing about a disk, and takes them away
 * afterwards. A `TMPDIR` of one's own is left as it is.
 */
export default function useMemory(): (() => void) | undefined {
  process.env.TEST_DISK = tmpdir();
  if (process.env.TMPDIR !== undefined || !hasRoom(memory)) return undefined;
  const folder = mkdtempSync(join(memory, 'neckline-'));
  process.env.TMPDIR = folder;
  return () => rmSync(folder, { recursive: true, force: true });
}

function hasRoom(folder: string): boolean {
  try {
    accessSync(folder, constants.W_OK);
    const { bavail, bsize } = statfsSync(folder);
    return bavail * bsize >= leastFreeBytes;
  } catch {
    return false;
  }
}
