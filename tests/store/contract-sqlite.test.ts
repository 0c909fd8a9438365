import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import Sqlite from 'better-sqlite3';
import { keyRingOf } from '../../src/store/keys.ts';
import { openStore } from '../../src/store/open.ts';
import type { LineStore } from '../../src/store/store.ts';
import { storeContract } from '../contract/store.ts';

const keys = keyRingOf(Buffer.alloc(32, 7));

storeContract('SQLite', async () => {
  const folder = mkdtempSync(join(tmpdir(), 'neckline-store-'));
  const file = join(folder, 'neckline.db');
  let store: LineStore | null = null;
  return {
    async open(options) {
      store = await openStore({ url: `sqlite:${file}`, keys, ...options });
      return store;
    },
    async crash() {
      // The handles must go with the process; nothing else happens here that a kill would not do.
      await store?.close();
    },
    async tamper(sql) {
      const db = new Sqlite(file);
      db.exec(sql);
      db.close();
    },
    async drop() {
      rmSync(folder, { recursive: true, force: true });
    },
  };
});
