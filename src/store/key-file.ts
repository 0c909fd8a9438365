/** The key file: the master key and the wrapping keys that replaced the one derived from it. */
import { readFileSync } from 'node:fs';
import type { SealKey } from './seal.ts';
import { StoreError } from './store-error.ts';
import { writeWhole } from './whole-file.ts';

const keyBytes = 32;

export interface KeyFile {
  readonly master: Buffer;
  /** Later wrapping keys, oldest first; the last one wraps what is new. */
  readonly wrapping: readonly { readonly version: number; readonly key: SealKey }[];
  /** A change of the wrapping key has begun and is not done. */
  readonly rotating: boolean;
}

interface Parsed {
  readonly version?: unknown;
  readonly key?: unknown;
  readonly wrapping?: unknown;
  readonly rotating?: unknown;
}

/** Reads the file; null when there is none. Throws `bad-key-file` for a file that is not ours. */
export function readKeyFile(file: string): KeyFile | null {
  let text: string;
  try {
    text = readFileSync(file, 'utf8');
  } catch (cause) {
    if ((cause as NodeJS.ErrnoException).code === 'ENOENT') return null;
    throw cause;
  }
  let parsed: Parsed;
  try {
    parsed = JSON.parse(text) as Parsed;
  } catch (cause) {
    throw new StoreError('bad-key-file', 'not JSON', cause);
  }
  if (parsed.version !== 1 && parsed.version !== 2) throw new StoreError('bad-key-file', 'version');
  const later = parsed.version === 1 ? [] : parsed.wrapping;
  if (!Array.isArray(later)) throw new StoreError('bad-key-file', 'wrapping');
  let before = 1;
  const wrapping = (later as { version?: unknown; key?: unknown }[]).map(({ version, key }) => {
    if (typeof version !== 'number' || !Number.isInteger(version) || version <= before) {
      throw new StoreError('bad-key-file', 'wrapping');
    }
    before = version;
    return { version, key: bytesOf(key) };
  });
  return { master: bytesOf(parsed.key), wrapping, rotating: parsed.rotating === true };
}

function bytesOf(text: unknown): Buffer {
  const bytes = typeof text === 'string' ? Buffer.from(text, 'base64') : Buffer.alloc(0);
  if (bytes.length !== keyBytes) throw new StoreError('bad-key-file', 'length');
  return bytes;
}

/** The file's text. Without later wrapping keys it is what older versions of the line read. */
export function keyFileText({ master, wrapping, rotating }: KeyFile): string {
  const key = master.toString('base64');
  if (wrapping.length === 0) return `${JSON.stringify({ version: 1, key })}\n`;
  const later = wrapping.map((one) => ({ version: one.version, key: one.key.toString('base64') }));
  return `${JSON.stringify({ version: 2, key, wrapping: later, ...(rotating ? { rotating } : {}) })}\n`;
}

/** Puts the file in its place whole: a crash leaves the old one or the new one. */
export function writeKeyFile(file: string, keys: KeyFile): void {
  writeWhole(file, keyFileText(keys));
}
