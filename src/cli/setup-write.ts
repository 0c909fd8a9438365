/** Puts the files of a programme into its folder, for whoever may read the folder. */
import { randomBytes } from 'node:crypto';
import { chmodSync, chownSync, existsSync, mkdirSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { writeWhole } from '../store/whole-file.ts';

/** Makes the folder, for its owner only, where there is none. */
export function makeFolder(folder: string): void {
  mkdirSync(folder, { recursive: true, mode: 0o700 });
}

/**
 * Writes a file whole. It is for its owner only; in a folder that is shut to others and open to a group (root:neckline 0750)
 * that group may read it, or the service could not.
 */
export function putFile(folder: string, name: string, text: string): void {
  const file = join(folder, name);
  const { mode, gid } = statSync(folder);
  const isForGroup = (mode & 0o007) === 0 && (mode & 0o050) === 0o050;
  writeWhole(file, text);
  if (!isForGroup) return;
  if (statSync(file).gid !== gid) chownSync(file, -1, gid);
  chmodSync(file, 0o640);
}

/** Makes a secret where there is none; gives whether it did. */
export function putSecret(folder: string, name: string): boolean {
  if (existsSync(join(folder, name))) return false;
  putFile(folder, name, `${randomBytes(24).toString('hex')}\n`);
  return true;
}
