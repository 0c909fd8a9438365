import { randomBytes } from 'node:crypto';
import { closeSync, fchmodSync, fsyncSync, openSync, renameSync, writeSync } from 'node:fs';
import { dirname } from 'node:path';

/**
 * Puts a file in its place whole and durably: a crash leaves the old one or the new one. For its owner only, unless `mode`
 * says otherwise, whatever the umask.
 */
export function writeWhole(file: string, text: string, mode = 0o600): void {
  const fresh = `${file}.${process.pid}-${randomBytes(4).toString('hex')}`;
  const handle = openSync(fresh, 'wx', 0o600);
  try {
    if (mode !== 0o600) fchmodSync(handle, mode);
    writeSync(handle, text);
    fsyncSync(handle);
  } finally {
    closeSync(handle);
  }
  renameSync(fresh, file);
  syncFolder(dirname(file));
}

/** Makes what was renamed or linked in a folder durable. */
export function syncFolder(folder: string): void {
  const handle = openSync(folder, 'r');
  try {
    fsyncSync(handle);
  } finally {
    closeSync(handle);
  }
}
