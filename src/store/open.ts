import { randomBytes } from 'node:crypto';
import { existsSync, mkdirSync } from 'node:fs';
import { dirname } from 'node:path';
import type { Case } from '../case/case.ts';
import type { Log, Spare } from '../line/ports.ts';
import type { Engine } from './dialects/dialect.ts';
import { openPool, openPostgres, type PgPool } from './dialects/postgres.ts';
import { openSqlite } from './dialects/sqlite.ts';
import type { KeyRing } from './keys.ts';
import { type LineStore, storeOn } from './store.ts';
import { StoreError } from './store-error.ts';

export interface StoreOptions {
  /** The keys, or how to get them once it is known whether the database was written with some before. */
  readonly keys: KeyRing | ((isWritten: boolean) => KeyRing);
  /** Due time of a case's present duty (`case/duty.ts`); without it no case is ever overdue. */
  readonly dueAtOf?: (of: Case) => number | null;
  readonly log?: Log;
  /** A database that is not there yet is made (default true); else it is `no-database`, and nothing is left behind. */
  readonly makes?: boolean;
  /** Given back when the disk is full; absent = nothing is held back. */
  readonly spare?: Spare | null;
}

export interface OpenOptions extends StoreOptions {
  /** `sqlite:<file>`, `postgres://…` or `postgresql://…`. */
  readonly url: string;
  /** SQLite: hold the lock file for life, as `start` does (default true). Commands that run for a moment do not. */
  readonly exclusive?: boolean;
}

/**
 * Opens the store and brings its schema up to date. Throws `StoreError`: `locked` (another line holds the file),
 * `wrong-key`, `no-key-file`, `no-database`, `newer-schema`, `old-sqlite`, `bad-url`, `no-driver`.
 */
export async function openStore(options: OpenOptions): Promise<LineStore> {
  return openOn(await openEngine(options.url, options.exclusive ?? true, options.makes ?? true), options);
}

/** Opens the store on a pool that is already there. The pool belongs to the store from then on. */
export async function openStoreOnPool(pool: PgPool, options: StoreOptions): Promise<LineStore> {
  return openOn(await openPostgres(pool, options.makes ?? true), options);
}

async function openEngine(url: string, exclusive: boolean, makes: boolean): Promise<Engine> {
  if (url.startsWith('sqlite:')) {
    const file = url.slice('sqlite:'.length);
    if (file === '' || file === ':memory:') throw new StoreError('bad-url', 'a file is needed');
    if (!makes && !existsSync(file)) throw new StoreError('no-database', file);
    mkdirSync(dirname(file), { recursive: true, mode: 0o700 });
    return openSqlite(file, exclusive);
  }
  if (/^postgres(ql)?:\/\//.test(url)) return openPostgres(await openPool(url), makes);
  throw new StoreError('bad-url', 'unknown scheme');
}

async function ringFor(engine: Engine, { keys, makes = true }: StoreOptions): Promise<KeyRing> {
  if (typeof keys !== 'function') return keys;
  try {
    const mark = await engine.kysely.selectFrom('meta').select('value').where('name', '=', 'key').executeTakeFirst();
    if (mark === undefined && !makes) throw new StoreError('no-database', 'meta');
    return keys(mark !== undefined);
  } catch (thrown) {
    await engine.close();
    throw thrown;
  }
}

async function openOn(engine: Engine, options: StoreOptions): Promise<LineStore> {
  const ring = await ringFor(engine, options);
  const store = storeOn(engine, {
    ring,
    dueAtOf: options.dueAtOf ?? (() => null),
    log: options.log ?? { write: () => undefined },
    owner: randomBytes(9).toString('base64url'),
    spare: options.spare ?? null,
  });
  try {
    const written = await store.mark('key');
    if (written !== null && written !== ring.fingerprint) throw new StoreError('wrong-key', 'key file');
    await engine.watch(ring.witness);
    if (written === null) await store.setMark('key', ring.fingerprint);
    await store.rebind();
    await store.refold();
    return store;
  } catch (thrown) {
    await store.close();
    throw thrown;
  }
}
