import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { PGlite } from '@electric-sql/pglite';
import Database from 'better-sqlite3';
import { Kysely, PostgresDialect, SqliteDialect } from 'kysely';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { bareStatements } from '../../src/store/bare.ts';
import type { Dialect } from '../../src/store/dialects/dialect.ts';
import { postgresDialect } from '../../src/store/dialects/postgres.ts';
import { sqliteDialect } from '../../src/store/dialects/sqlite.ts';
import { doubtfulStatements } from '../../src/store/doubtful.ts';
import { dueStatements } from '../../src/store/due.ts';
import { figureStatements } from '../../src/store/figures.ts';
import { hotStatements } from '../../src/store/hot.ts';
import { keyRingOf } from '../../src/store/keys.ts';
import { linkStatements } from '../../src/store/links.ts';
import { lookStatements } from '../../src/store/looks.ts';
import { openStore, openStoreOnPool } from '../../src/store/open.ts';
import { outboxStatements } from '../../src/store/outbox.ts';
import { peopleStatements } from '../../src/store/people.ts';
import { replaceStatements } from '../../src/store/replace.ts';
import type { Tables } from '../../src/store/schema.ts';
import type { Statement } from '../../src/store/statement.ts';
import { waitStatements } from '../../src/store/waits.ts';
import { OnePool } from './pglite-pool.ts';

/*
 * How the engines go about what a text, a claim, a report or a due row waits for, and what a start asks: nothing walks
 * through a table that grows with every patient. SQLite says so by SCAN (sqlite.org/eqp.html), PostgreSQL by Seq Scan where
 * it is told to use one only when nothing else is possible (`enable_seqscan`, PostgreSQL documentation, chapter 20.7).
 */
type Named = Statement<never, unknown>;

/** Small however much is stored: what a human has not looked at yet, and the last words of each link. */
const smallTables = /\b(parked|l|q|links)\b/;
/** Walks through all that is open now, and only at a start or after the clock was set. */
const rare = ['waitsLease', 'waitsDue'];

function namedIn(of: object): Named[] {
  return Object.values(of).flatMap((one: Named | object) => ('text' in one ? [one] : namedIn(one)));
}

function waitedFor(db: Kysely<Tables>, dialect: Dialect): readonly Named[] {
  return [
    hotStatements(db, dialect),
    dueStatements(db, dialect),
    outboxStatements(db, dialect),
    peopleStatements(db),
    replaceStatements(db),
    linkStatements(db),
    bareStatements(db),
    doubtfulStatements(db),
    lookStatements(db),
    figureStatements(db),
    waitStatements(db),
  ]
    .flatMap(namedIn)
    .filter(({ name }) => !rare.includes(name));
}

describe('on SQLite', () => {
  /** Indexes over open rows alone, by their own condition: all of one may be walked through. */
  const ofOpenRows =
    /USING (COVERING )?INDEX (messages_line|messages_ready|messages_unsure|messages_doubtful|cases_open|cases_waiting|cases_wake|questions_tag)\b/;
  let folder: string;
  let db: Database.Database;

  beforeAll(async () => {
    folder = mkdtempSync(join(tmpdir(), 'neckline-plan-'));
    const file = join(folder, 'line.db');
    await (await openStore({ url: `sqlite:${file}`, keys: keyRingOf(new Uint8Array(32).fill(1)) })).close();
    db = new Database(file, { readonly: true });
  });
  afterAll(() => {
    db.close();
    rmSync(folder, { recursive: true, force: true });
  });

  const planOf = (text: string): string[] => {
    const values = [...text.matchAll(/\?/g)].map(() => 0);
    return (db.prepare(`explain query plan ${text}`).all(values) as { detail: string }[]).map(({ detail }) => detail);
  };
  const walks = (text: string): string[] =>
    planOf(text).filter(
      (step) => step.startsWith('SCAN') && !/json_each/.test(step) && !ofOpenRows.test(step) && !smallTables.test(step),
    );

  const kysely = new Kysely<Tables>({ dialect: new SqliteDialect({ database: new Database(':memory:') }) });
  it.each(waitedFor(kysely, sqliteDialect).map(({ name, text }) => [name, text] as const))(
    '%s walks through no growing table',
    (_name, text) => {
      expect(walks(text)).toEqual([]);
    },
  );

  it('a statement that does is seen', () => {
    expect(walks("select count(*) from messages where direction = 'in'")).toHaveLength(1);
    expect(walks('select count(*) from cases')).toHaveLength(1);
    expect(walks("update messages set status = 'queued' where status = 'sending'")).toHaveLength(1);
  });
});

describe('on PostgreSQL', () => {
  let server: PGlite;
  let walks: (text: string) => Promise<string[]>;

  beforeAll(async () => {
    server = new PGlite();
    await openStoreOnPool(new OnePool(server), { keys: keyRingOf(new Uint8Array(32).fill(1)) });
    await server.exec('set enable_seqscan = off');
    walks = async (text) => {
      const [plan] = await server.exec(`explain (generic_plan) ${text}`);
      const lines = plan!.rows.map((row) => String(Object.values(row)[0]));
      return lines.filter((line) => /Seq Scan on/.test(line) && !smallTables.test(line));
    };
  });
  afterAll(() => server.close());

  const kysely = new Kysely<Tables>({ dialect: new PostgresDialect({ pool: new OnePool(null as never) as never }) });
  it.each(waitedFor(kysely, postgresDialect).map(({ name, text }) => [name, text] as const))(
    '%s walks through no growing table',
    async (_name, text) => {
      expect(await walks(text)).toEqual([]);
    },
  );

  it('a statement that does is seen', async () => {
    expect(await walks("select count(*) from messages where direction = 'in'")).toHaveLength(1);
    expect(await walks('select min(coalesce(lease_until, due_at)) from due')).toHaveLength(1);
  });
});
