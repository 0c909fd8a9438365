import { PGlite } from '@electric-sql/pglite';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { keyRingOf } from '../../src/store/keys.ts';
import { openStoreOnPool } from '../../src/store/open.ts';
import { storeContract } from '../contract/store.ts';
import { emptied, OnePool } from './pglite-pool.ts';

const keys = keyRingOf(Buffer.alloc(32, 7));
let server: PGlite;

// Five seconds of work, which a busy machine takes long for.
beforeAll(async () => {
  server = await PGlite.create();
}, 300_000);
afterAll(async () => {
  await server.close();
});

describe('a database of PostgreSQL that no line ever wrote', () => {
  it('is left as it is by whoever makes none', async () => {
    const opening = openStoreOnPool(new OnePool(server), { keys, makes: false });
    await expect(opening).rejects.toMatchObject({ code: 'no-database' });
    const { rows } = await server.query("select tablename from pg_tables where schemaname = 'public'");
    expect(rows).toEqual([]);
  });
});

storeContract('PostgreSQL', async () => {
  await emptied(server);
  return {
    open: (options) => openStoreOnPool(new OnePool(server), { keys, ...options }),
    async crash() {
      // A dead process leaves the server with what it had committed.
      await server.exec('rollback');
    },
    async tamper(sql) {
      // By somebody who does not know the secret of the line.
      await server.exec(`select set_config('neckline.witness', '', false); ${sql}`);
    },
    async drop() {},
  };
});
