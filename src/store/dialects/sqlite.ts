import Database from 'better-sqlite3';
import { Kysely, SqliteDialect, sql } from 'kysely';
import { migrate } from '../migrations/migrate.ts';
import { ownFile } from '../own-file.ts';
import type { Tables } from '../schema.ts';
import type { Answer, Statement, Steps } from '../statement.ts';
import { StoreError } from '../store-error.ts';
import type { Dialect, Ended, Engine } from './dialect.ts';
import { holdLock } from './sqlite-lock.ts';
import { passesQuickCheck } from './sqlite-quick-check.ts';
import { type SqliteWitness, witnessOn } from './sqlite-witness.ts';

const busyTimeoutMs = 5_000;
/** How long taking erased bytes out of the log waits for readers at a time, ms. */
const scrubWaitMs = 250;
/** The first version without the known fault of resetting a write-ahead log (3.51.3, sqlite.org change log). */
const oldestSqlite = [3, 51, 3] as const;

export const sqliteDialect: Dialect = {
  name: 'sqlite',
  bytes: sql`blob`,
  integer: 'integer',
  growing: 'integer',
  tableEnd: sql`strict`,
  keyedEnd: sql`strict, without rowid`,
  members: (list) => sql<string>`(select value from json_each(${list}))`,
  numbers: (list) => sql<number>`(select value from json_each(${list}))`,
  hex: (bytes) => sql<string>`hex(${bytes})`,
  claim: sql``,
  alone: true,
};

/** Opens a connection that loses nothing it committed, at most `busyTimeoutMs` of waiting for another writer. */
function connect(file: string): Database.Database {
  const db = new Database(file, { timeout: busyTimeoutMs });
  db.pragma('journal_mode = wal');
  db.pragma('synchronous = full');
  db.pragma('foreign_keys = on');
  // Overwrites what a destroyed key was, as far as that writes no further page; all else is sealed.
  db.pragma('secure_delete = fast');
  db.pragma('temp_store = memory');
  db.pragma('wal_autocheckpoint = 4000');
  db.pragma('journal_size_limit = 33554432');
  return db;
}

/** Throws `old-sqlite` for a library that may damage its log. */
export function checkSqliteVersion(version: string): void {
  const parts = version.split('.').map(Number);
  for (const [index, least] of oldestSqlite.entries()) {
    const part = parts[index] ?? 0;
    if (part > least) return;
    if (part < least) throw new StoreError('old-sqlite', version);
  }
}

/**
 * Opens (or makes) the database file. `exclusive` holds the lock file for life; commands that only look or write for
 * a moment leave it alone.
 */
export async function openSqlite(file: string, exclusive: boolean): Promise<Engine> {
  const letGo = exclusive ? holdLock(file) : () => undefined;
  // The files beside it are made as it is (sqlite.org, os_unix.c findCreateFileMode).
  ownFile(file);
  const opened: Database.Database[] = [];
  try {
    const hot = connect(file);
    opened.push(hot);
    checkSqliteVersion(hot.prepare('select sqlite_version()').pluck().get() as string);
    const rest = connect(file);
    opened.push(rest);
    const kysely = new Kysely<Tables>({ dialect: new SqliteDialect({ database: rest }) });
    const changed = await migrateAtOnce(rest, kysely);
    rest.pragma('query_only = on');
    return engineOn(hot, rest, kysely, changed, letGo);
  } catch (thrown) {
    for (const one of opened) one.close();
    letGo();
    throw thrown;
  }
}

/** True: the tables were changed. */
async function migrateAtOnce(rest: Database.Database, kysely: Kysely<Tables>): Promise<boolean> {
  rest.exec('begin immediate');
  try {
    const changed = await migrate(kysely, sqliteDialect);
    rest.exec('commit');
    return changed;
  } catch (thrown) {
    if (rest.inTransaction) rest.exec('rollback');
    throw thrown;
  }
}

function takeStock(hot: Database.Database, witness: SqliteWitness): void {
  hot.transaction(() => witness.takeStock()).immediate();
}

function engineOn(
  hot: Database.Database,
  rest: Database.Database,
  kysely: Kysely<Tables>,
  changed: boolean,
  letGo: () => void,
): Engine {
  const prepared = new Map<Statement<unknown, unknown>, Database.Statement>();
  const begin = hot.prepare('begin immediate');
  const commitNow = hot.prepare('commit');
  let witness: SqliteWitness | null = null;
  const savepoint = hot.prepare('savepoint piece');
  const release = hot.prepare('release piece');

  const answer = (statement: Statement<unknown, unknown>, values: readonly unknown[]): Answer => {
    let ready = prepared.get(statement);
    if (!ready) {
      ready = hot.prepare(statement.text);
      prepared.set(statement, ready);
    }
    return statement.reads ? ready.all(values) : ready.run(values).changes;
  };
  const drive = <T>(steps: Steps<T>): T => {
    let next = steps.next();
    while (!next.done) next = steps.next(answer(next.value.statement, next.value.values));
    return next.value;
  };
  const commit = () => {
    witness?.settle();
    commitNow.run();
  };
  const rollback = () => {
    witness?.forget();
    if (hot.inTransaction) hot.exec('rollback');
  };
  const transaction = <T>(steps: () => Steps<T>, keep: (ended: T) => boolean): T => {
    begin.run();
    try {
      const ended = drive(steps());
      if (keep(ended)) commit();
      else rollback();
      return ended;
    } catch (thrown) {
      rollback();
      throw thrown;
    }
  };
  /** Undoes one piece. False when the engine gave up the whole transaction (a full disk). */
  const undoPiece = (): boolean => {
    if (!hot.inTransaction) return false;
    hot.exec('rollback to piece');
    release.run();
    return true;
  };
  const piece = (steps: () => Steps<Ended>): Ended | Error => {
    savepoint.run();
    const before = witness?.mark();
    let ended: Ended | Error;
    try {
      ended = drive(steps());
    } catch (thrown) {
      ended = asError(thrown);
    }
    if (ended === 'committed') release.run();
    else if (!undoPiece()) throw ended instanceof Error ? ended : new Error(ended);
    else if (before) witness?.backTo(before);
    return ended;
  };
  /** Nearly always every piece is kept, so the group first runs without a savepoint each; null = one was not. */
  const allAtOnce = (pieces: readonly (() => Steps<Ended>)[]): Ended[] | null => {
    begin.run();
    try {
      const ends: Ended[] = [];
      for (const steps of pieces) {
        const ended = drive(steps());
        if (ended !== 'committed') {
          rollback();
          return null;
        }
        ends.push(ended);
      }
      commit();
      return ends;
    } catch {
      rollback();
      return null;
    }
  };
  const oneByOne = (pieces: readonly (() => Steps<Ended>)[]): (Ended | Error)[] => {
    begin.run();
    try {
      const ends = pieces.map(piece);
      commit();
      return ends;
    } catch (thrown) {
      rollback();
      throw thrown;
    }
  };

  return {
    dialect: sqliteDialect,
    kysely,
    read: async (steps) => drive(steps()),
    write: async (steps) => transaction(steps, () => true),
    each: async (pieces) => {
      if (pieces.length === 0) return [];
      try {
        if (pieces.length === 1) return [transaction(pieces[0]!, (ended) => ended === 'committed')];
        return allAtOnce(pieces) ?? oneByOne(pieces);
      } catch (thrown) {
        const error = asError(thrown);
        return pieces.map(() => error);
      }
    },
    scrub: async () => {
      // While it waits for readers nobody can write.
      hot.pragma(`busy_timeout = ${scrubWaitMs}`);
      try {
        const [log] = hot.pragma('wal_checkpoint(truncate)') as [{ readonly busy: number }];
        return log.busy === 0 ? 'gone' : 'held';
      } finally {
        hot.pragma(`busy_timeout = ${busyTimeoutMs}`);
      }
    },
    watch: async (keys) => {
      witness = witnessOn(hot, keys);
      if (changed) takeStock(hot, witness);
    },
    witnessed: async () => witness?.faults() ?? [],
    takeStock: async () => {
      if (witness) takeStock(hot, witness);
    },
    isSound: () => passesQuickCheck(hot.name),
    copyTo: async (file) => {
      await rest.backup(file);
      return true;
    },
    close: async () => {
      await kysely.destroy();
      hot.close();
      letGo();
    },
  };
}

function asError(thrown: unknown): Error {
  return thrown instanceof Error ? thrown : new Error('thrown');
}
