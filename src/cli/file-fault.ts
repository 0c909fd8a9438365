/** What the system says of a file, in words for whoever typed the command. */

const fileFaults: Readonly<Record<string, string>> = {
  ENOENT: 'there is no such file or folder',
  EACCES: "this user may not read or write it; run the command as the line's user, who must own it",
  EEXIST: 'something of that name is there already',
  ENOSPC: 'the disk is full',
  EISDIR: 'it is a folder, and a file is expected',
  EROFS: 'nothing can be written there; a service may write only where its unit says',
  ENOTDIR: 'a part of its path is a file, and a folder is expected',
};

/** The file that a call of the system failed on, and why; null where it was no such call. */
export function fileFault(error: unknown): string | null {
  const { code, path } = error as NodeJS.ErrnoException;
  const why = code === undefined ? undefined : fileFaults[code];
  return why !== undefined && path ? `${path}: ${why} (${code})` : null;
}
