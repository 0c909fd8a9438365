import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import Database from 'better-sqlite3';
import { Kysely, SqliteDialect } from 'kysely';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { figureStatements } from '../../src/store/figures.ts';
import { keyRingOf } from '../../src/store/keys.ts';
import { linkStatements } from '../../src/store/links.ts';
import { openStore } from '../../src/store/open.ts';
import type { Tables } from '../../src/store/schema.ts';
import type { Statement } from '../../src/store/statement.ts';

/**
 * Indexes over open rows alone, by their own condition; they stay small however much is stored, so that all of one may be
 * walked through.
 */
const ofOpenRows = /USING (COVERING )?INDEX (messages_line|messages_ready|cases_open|cases_waiting|questions_tag)\b/;
/** Tables that hold what a human has not looked at yet. */
const small = /^SCAN (parked|l)$/;

let folder: string;
let db: Database.Database;

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'neckline-plan-'));
  const file = join(folder, 'line.db');
  const store = await openStore({ url: `sqlite:${file}`, keys: keyRingOf(new Uint8Array(32).fill(1)) });
  await store.close();
  db = new Database(file, { readonly: true });
});
afterAll(() => {
  db.close();
  rmSync(folder, { recursive: true, force: true });
});

function planOf(text: string): string[] {
  const values = [...text.matchAll(/\?/g)].map(() => 0);
  return (db.prepare(`explain query plan ${text}`).all(values) as { detail: string }[]).map(({ detail }) => detail);
}

/** Steps of the plan that read a table from end to end. */
const scans = (text: string): string[] =>
  planOf(text).filter((step) => step.startsWith('SCAN') && !ofOpenRows.test(step) && !small.test(step));

describe('the figures cost the same however much is stored', () => {
  const kysely = new Kysely<Tables>({ dialect: new SqliteDialect({ database: new Database(':memory:') }) });
  const all: readonly Statement<never, unknown>[] = [
    ...Object.values(figureStatements(kysely)),
    ...Object.values(linkStatements(kysely)).filter(({ reads }) => reads),
  ] as never;

  it.each(all.map(({ name, text }) => [name, text] as const))(
    '%s reads no growing table from end to end',
    (_n, text) => {
      expect(planOf(text).length).toBeGreaterThan(0);
      expect(scans(text)).toEqual([]);
    },
  );

  it('a statement that does is seen', () => {
    expect(scans("select count(*) from messages where direction = 'in'")).toHaveLength(1);
    expect(scans('select count(*) from cases')).toHaveLength(1);
  });
});
