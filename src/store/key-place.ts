/** Where a key file may stand once real patients depend on it. */
import { existsSync, realpathSync, statSync } from 'node:fs';
import { basename, dirname, join, relative, resolve } from 'node:path';

/**
 * Why this key file must not be used with real channels, as one line for the operator; null = its place is good.
 * Inside the data folder it would travel with every copy of the data; readable by others it opens for them; in a folder
 * that others may write it can be exchanged. A file that does not exist yet is judged by its place alone: it is made for
 * its owner only.
 */
export function keyPlaceFault(keyFile: string, dataFolder: string): string | null {
  const file = realPlace(resolve(keyFile));
  const inside = relative(realPlace(resolve(dataFolder)), file);
  if (inside === '' || !inside.startsWith('..')) {
    return `${keyFile}: the key file stands in the data folder and would travel with its copies; set NECKLINE_KEY_FILE to a file outside`;
  }
  const folders = foldersOver(file);
  const open = folders.find((folder, height) => isOpen(folder, height === 0));
  if (open !== undefined) {
    return `${keyFile}: others may write in ${open} and put another key file in its place; chmod go-w it`;
  }
  if (!existsSync(file)) return null;
  const { mode, uid } = statSync(file);
  if ((mode & 0o077) !== 0) return `${keyFile}: others may read the key file; chmod 600 it`;
  const own = process.getuid?.();
  if (own !== undefined && uid !== own && uid !== 0) return `${keyFile}: the key file belongs to another user`;
  return null;
}

/** Folders above a file that are there, from the nearest one up. */
function foldersOver(file: string): readonly string[] {
  const above = dirname(file);
  const there = existsSync(above) ? [above] : [];
  return above === file ? [] : [...there, ...foldersOver(above)];
}

const othersWrite = 0o022;
/** In a folder with this bit everybody takes away their own files only. */
const sticky = 0o1000;

/** Whether somebody else may take away or put in place what stands in the folder; `own`: the very folder of the file. */
function isOpen(folder: string, own: boolean): boolean {
  const { mode, uid } = statSync(folder);
  const user = process.getuid?.();
  if (user !== undefined && uid !== user && uid !== 0) return true;
  return (mode & othersWrite) !== 0 && (own || (mode & sticky) === 0);
}

/** The path without links; of what does not exist yet, the place where it would be. */
function realPlace(path: string): string {
  if (existsSync(path)) return realpathSync(path);
  const above = dirname(path);
  return above === path ? path : join(realPlace(above), basename(path));
}
