import { PGlite } from '@electric-sql/pglite';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { seededRandom } from '../../src/cli/player.ts';
import { registry } from '../../src/conversation/matters.ts';
import { Handler } from '../../src/line/handle.ts';
import type { PgClient } from '../../src/store/dialects/postgres.ts';
import { keyRingOf } from '../../src/store/keys.ts';
import { openStoreOnPool } from '../../src/store/open.ts';
import { storeContract } from '../contract/store.ts';
import { person } from '../support/links.ts';
import { shipped } from '../support/shipped.ts';
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

/** A pool whose connections break off; nothing is answered on such a one from then on. */
class BreakingPool extends OnePool {
  /** How often one breaks still, each time at the query of this number since the one before. */
  breaks = 0;
  atQuery = 1;
  cause: () => Error = () => new Error();
  private asked = 0;

  override async connect(): Promise<PgClient> {
    const client = await super.connect();
    let isLost = false;
    return {
      release: () => client.release(),
      query: async (query, values) => {
        this.asked += 1;
        if (this.breaks > 0 && this.asked >= this.atQuery) {
          isLost = true;
          this.breaks -= 1;
          this.asked = 0;
          await this.server.exec('rollback');
        }
        if (isLost) throw this.cause();
        return client.query(query, values);
      },
    };
  }

  /** From now on one breaks twice, at the query of this number. */
  breakAt(query: number): void {
    [this.asked, this.breaks, this.atQuery] = [0, 2, query];
  }

  /** None broke: there were not so many queries. */
  isWhole(): boolean {
    return this.breaks === 2;
  }
}

describe('a connection that breaks off', () => {
  // The server that ends it says why (admin_shutdown, PostgreSQL documentation, appendix A); the driver knows of no code
  // when the other end is gone, or when somebody asks once more.
  it.each<[string, () => Error]>([
    ['by the server', () => Object.assign(new Error('terminating connection'), { code: '57P01' })],
    ['without a word', () => new Error('Connection terminated unexpectedly')],
  ])('%s is no fault of the text: it comes again and is taken, whatever was asked when', async (_how, cause) => {
    await emptied(server);
    const pool = new BreakingPool(server);
    const store = await openStoreOnPool(pool, { keys });
    const worker = person('w', 'worker', ['sms']);
    await store.putPeople([worker]);
    pool.cause = cause;
    const ends: string[] = [];
    for (let query = 1, isOver = false; !isOver; query += 1) {
      const random = seededRandom(query);
      const handler = new Handler({ store, content: shipped, registry, random, log: { write: () => undefined } });
      const id = `m${query}`;
      const at = Date.UTC(2030, 2, 4, 8);
      const seed = new Uint8Array(16).fill(query);
      const from = worker.addresses[0]!;
      const own = { id, programmeId: shipped.programme.id, keys: [id], at, seed };
      const event = { ...own, kind: 'text', from, text: 'LIST', networkAt: at } as const;
      pool.breakAt(query);
      ends.push(await handler.handle(event));
      isOver = pool.isWhole();
      pool.breaks = 0;
      expect(['done', 'duplicate'], `broken at query ${query}`).toContain(await handler.handle(event));
    }
    expect(ends.filter((one) => one === 'failed').length).toBeGreaterThan(3);
    expect(ends).not.toContain('parked');
    expect(await store.parked()).toEqual([]);
    expect(await store.verify()).toEqual([]);
  });
});
