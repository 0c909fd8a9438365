import { Kysely, PostgresDialect, sql } from 'kysely';
import { errorCode } from '../../text/error-code.ts';
import { migrate } from '../migrations/migrate.ts';
import type { Tables } from '../schema.ts';
import type { Answer, Statement, Steps } from '../statement.ts';
import { StoreError } from '../store-error.ts';
import type { Dialect, Ended, Engine, Scrubbed } from './dialect.ts';
import { changedTables, takeStock, tellSecret, watchTables } from './postgres-witness.ts';

/** Connections of one process: more of them are slower, not faster. */
const poolSize = 6;
/** Attempts at one transaction when the server says that it should be tried again. */
const mostAttempts = 4;
/** serialization_failure and deadlock_detected (PostgreSQL documentation, appendix A). */
const triedAgain: ReadonlySet<string> = new Set(['40001', '40P01']);

/** A named statement; the server plans it once for each connection. */
export interface NamedQuery {
  readonly name: string;
  readonly text: string;
  readonly values: readonly unknown[];
}

/** What is needed of a connection of the `pg` package. */
export interface PgClient {
  query(query: NamedQuery | string, values?: readonly unknown[]): Promise<PgResult>;
  release(broken?: boolean): void;
}

export interface PgResult {
  readonly command: string;
  readonly rowCount: number | null;
  // biome-ignore lint/suspicious/noExplicitAny: rows are typed by the statement that asks for them
  readonly rows: any[];
}

/** What is needed of a pool of the `pg` package. int8 must arrive as a number, bytea as a Buffer. */
export interface PgPool {
  connect(): Promise<PgClient>;
  end(): Promise<void>;
}

export const postgresDialect: Dialect = {
  name: 'postgres',
  bytes: sql`bytea`,
  integer: 'bigint',
  growing: 'bigserial',
  tableEnd: sql``,
  keyedEnd: sql``,
  members: (list) => sql<string>`(select value from json_array_elements_text(cast(${list} as json)))`,
  numbers: (list) => sql<number>`(select cast(value as bigint) from json_array_elements_text(cast(${list} as json)))`,
  hex: (bytes) => sql<string>`encode(${bytes}, 'hex')`,
  claim: sql`for update of m skip locked`,
  alone: false,
};

/** A pool for `url` on the optional `pg` driver. Throws `no-driver` when it is not installed. */
export async function openPool(url: string): Promise<PgPool> {
  const pg = await import('pg').catch((cause: unknown) => {
    throw new StoreError('no-driver', 'pg', cause);
  });
  const { Pool, types } = pg.default;
  const int8 = types.builtins.INT8;
  const getTypeParser = ((id: number, format?: 'text' | 'binary') =>
    id === int8 && format !== 'binary' ? safeInteger : types.getTypeParser(id, format)) as typeof types.getTypeParser;
  const pool = new Pool({ connectionString: url, max: poolSize, types: { getTypeParser } });
  pool.on('error', () => undefined);
  // One that breaks while it is in use says so to whoever uses it; unheard it would end the process.
  pool.on('connect', (client) => client.on('error', () => undefined));
  return pool as unknown as PgPool;
}

/** Reads an int8; instants and counts stay far below 2^53. */
function safeInteger(text: string): number {
  const value = Number(text);
  if (!Number.isSafeInteger(value)) throw new StoreError('unreadable', 'int8');
  return value;
}

/** Opens the engine on a pool and brings the schema up to date. */
export async function openPostgres(pool: PgPool, makes = true): Promise<Engine> {
  const kysely = new Kysely<Tables>({
    dialect: new PostgresDialect({ pool: pool as never }),
  });
  try {
    if (!makes && !(await isWritten(kysely))) throw new StoreError('no-database', 'meta');
    const changed = await migrate(kysely, postgresDialect);
    return engineOn(pool, kysely, changed);
  } catch (thrown) {
    await kysely.destroy();
    throw thrown;
  }
}

/** Whether a line was here before: an empty database is left empty by whoever only wants to look. */
async function isWritten(kysely: Kysely<Tables>): Promise<boolean> {
  const { rows } = await sql<{ found: string | null }>`select to_regclass('meta')::text as found`.execute(kysely);
  return rows[0]?.found != null;
}

async function answer(
  client: PgClient,
  statement: Statement<unknown, unknown>,
  values: readonly unknown[],
): Promise<Answer> {
  const result = await client.query({ name: statement.name, text: statement.text, values });
  return statement.reads ? result.rows : (result.rowCount ?? 0);
}

async function drive<T>(client: PgClient, steps: Steps<T>): Promise<T> {
  let next = steps.next();
  while (!next.done) next = steps.next(await answer(client, next.value.statement, next.value.values));
  return next.value;
}

/** Waits so long for whoever holds the table of keys. */
const keysLockMs = 2_000;
/** lock_not_available (PostgreSQL documentation, appendix A). */
const lockNotAvailable = '55P03';

/** Rewrites the table of keys without what was destroyed, once nobody can see an older state of it. */
async function rewriteKeys(client: PgClient): Promise<Scrubbed> {
  const asked = async (text: string, values: readonly unknown[] = []) => (await client.query(text, values)).rows[0];
  const { xid } = await asked('select (txid_current() % 4294967296)::text as xid');
  const older = `age(backend_xmin) > age($1::xid) or age(backend_xid) > age($1::xid)`;
  const { readers } = await asked(
    `select count(*) as readers from pg_stat_activity
      where datname = current_database() and pid <> pg_backend_pid() and (${older})`,
    [xid],
  );
  if (Number(readers) > 0) return 'held';
  const fileOf = async (): Promise<unknown> => (await asked("select pg_relation_filenode('data_keys') as file")).file;
  const before = await fileOf();
  await client.query(`set lock_timeout = ${keysLockMs}`);
  try {
    await client.query('vacuum (full) data_keys');
  } catch (thrown) {
    if ((thrown as { code?: unknown }).code === lockNotAvailable) return 'held';
    throw thrown;
  } finally {
    await client.query('set lock_timeout = 0');
  }
  // Whoever does not own the table is warned and nothing is done.
  return (await fileOf()) === before ? 'held' : 'server';
}

/** A connection that is gone has no code with this driver, only an error of no class; what the server refuses has one. */
function asLost(thrown: unknown): never {
  throw errorCode(thrown) === 'Error' ? new StoreError('unavailable', 'connection', thrown) : thrown;
}

function engineOn(pool: PgPool, kysely: Kysely<Tables>, changed: boolean): Engine {
  let secret: string | null = null;
  const told = new WeakSet<PgClient>();
  const connected = async <T>(work: (client: PgClient) => Promise<T>): Promise<T> => {
    const client = await pool.connect().catch(asLost);
    let broken = false;
    try {
      if (secret !== null && !told.has(client)) {
        await tellSecret(client, secret);
        told.add(client);
      }
      return await work(client);
    } catch (thrown) {
      broken = !(thrown instanceof StoreError) && typeof (thrown as { code?: unknown }).code !== 'string';
      return asLost(thrown);
    } finally {
      client.release(broken);
    }
  };
  const once = <T>(steps: () => Steps<T>, keep: (ended: T) => boolean): Promise<T> =>
    connected(async (client) => {
      await client.query('begin');
      try {
        const ended = await drive(client, steps());
        await client.query(keep(ended) ? 'commit' : 'rollback');
        return ended;
      } catch (thrown) {
        await client.query('rollback').catch(() => undefined);
        throw thrown;
      }
    });
  const transaction = async <T>(steps: () => Steps<T>, keep: (ended: T) => boolean): Promise<T> => {
    for (let attempt = 1; ; attempt += 1) {
      try {
        return await once(steps, keep);
      } catch (thrown) {
        const code = (thrown as { code?: unknown }).code;
        if (attempt >= mostAttempts || typeof code !== 'string' || !triedAgain.has(code)) throw thrown;
      }
    }
  };

  /**
   * Nearly always every piece is kept, so the group is first one transaction; null = each is to be written by itself. Where a
   * link broke at the commit that is right too: what was committed after all comes back as a duplicate.
   */
  const allAtOnce = async (pieces: readonly (() => Steps<Ended>)[]): Promise<readonly Ended[] | null> => {
    const inTurn = function* (): Steps<readonly Ended[]> {
      const ends: Ended[] = [];
      for (const piece of pieces) {
        ends.push(yield* piece());
        if (ends.at(-1) !== 'committed') break;
      }
      return ends;
    };
    const isKept = (ends: readonly Ended[]): boolean => ends.every((ended) => ended === 'committed');
    try {
      const ends = await once(inTurn, isKept);
      return isKept(ends) ? ends : null;
    } catch {
      return null;
    }
  };

  return {
    dialect: postgresDialect,
    kysely,
    read: (steps) => connected((client) => drive(client, steps())),
    write: (steps) => transaction(steps, () => true),
    each: async (pieces) => {
      const together = pieces.length > 1 ? await allAtOnce(pieces) : null;
      if (together) return together;
      const ends: (Ended | Error)[] = [];
      for (const piece of pieces) {
        try {
          ends.push(await transaction(piece, (ended) => ended === 'committed'));
        } catch (thrown) {
          ends.push(thrown instanceof Error ? thrown : new Error('thrown'));
        }
      }
      return ends;
    },
    scrub: () => connected(rewriteKeys),
    watch: async ({ rows }) => {
      secret = rows;
      if (changed) await connected(watchTables);
    },
    witnessed: () => connected((client) => changedTables(client, secret ?? '')),
    takeStock: () => connected(takeStock),
    isSound: async () => true,
    copyTo: async () => false,
    close: () => kysely.destroy(),
  };
}
