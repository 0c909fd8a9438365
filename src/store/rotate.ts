/** Changing the wrapping key: old backups and copies of the old key file then open nothing that is new. */
import { randomBytes } from 'node:crypto';
import { readKeyFile, writeKeyFile } from './key-file.ts';
import { type KeyRing, keyRingOf } from './keys.ts';
import type { LineStore } from './store.ts';
import { StoreError } from './store-error.ts';

/** Data keys in one transaction. */
const batch = 500;

/**
 * Puts a fresh wrapping key into the file, brings every data key under it in bounded batches, and only then takes the
 * older ones out of the file. `open` gives the store for a ring; no line may run meanwhile, since it would go on with
 * the old key. Stopped at any point it can be run again and goes on. Returns how many data keys were brought over. Throws
 * `readers` when all is done but that somebody reads an older state: the older keys then stay in the file.
 */
export async function rotateWrapping(file: string, open: (ring: KeyRing) => Promise<LineStore>): Promise<number> {
  const before = readKeyFile(file);
  if (!before) throw new StoreError('bad-key-file', 'none');
  const { master } = before;
  let { wrapping } = before;
  const ringBefore = keyRingOf(master, wrapping);
  // Refuses a database of another key before anything is changed, and holds it.
  const probe = await open(ringBefore);
  await probe.close();
  if (!before.rotating) {
    wrapping = [...wrapping, { version: ringBefore.wrapping.current + 1, key: randomBytes(32) }];
    writeKeyFile(file, { master, wrapping, rotating: true });
  }
  const store = await open(keyRingOf(master, wrapping));
  try {
    let changed = 0;
    for (let after: string | null = ''; after !== null; ) {
      const done: { last: string | null; changed: number } = await store.rewrap(after, batch);
      changed += done.changed;
      after = done.last;
    }
    // What was under the old key is overwritten in the side files too.
    if ((await store.scrub()) === 'held') throw new StoreError('readers', file);
    writeKeyFile(file, { master, wrapping: wrapping.slice(-1), rotating: false });
    return changed;
  } finally {
    await store.close();
  }
}
