import { copyFileSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import Database from 'better-sqlite3';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type KeyRing, openKeyRing } from '../../src/store/keys.ts';
import { openStore } from '../../src/store/open.ts';
import { besideTheLine } from '../support/beside-the-line.ts';
import { playFile } from '../support/play.ts';
import { runs } from '../support/runs.ts';

const plays = join(import.meta.dirname, '..', 'conversations');
/** Courses with results, alarms, invitations, questions open and answered, timers, texts that wait. */
const courses = [
  'thy4.play',
  'sos-repeated.play',
  'doctor-promise.play',
  'gone-from-a-referral.play',
  'wrong-tag.play',
];

/** Numbers that are the same for the same seed (a linear congruence, after Numerical Recipes, from memory). */
function drawing(seed: number): (below: number) => number {
  let state = seed >>> 0;
  return (below) => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return Math.floor((state / 2 ** 32) * below);
  };
}

type Cell = string | number | Buffer | null;

/** Tables by how much hangs on them: of the first every change is found, of the rest 99 in 100. */
const held = ['people', 'addresses', 'questions', 'due', 'specimens', 'cases', 'case_events'] as const;
const rest = [
  'messages',
  'conversations',
  'data_keys',
  'invitations',
  'rosters',
  'event_keys',
  'site_stocks',
  'meta',
  'heads',
  'head_cases',
] as const;

/** Another value for a column: of another row, a little more, a byte turned round. */
function other(
  db: Database.Database,
  table: string,
  column: string,
  value: Cell,
  draw: (below: number) => number,
): Cell {
  const more = db.prepare(`select distinct "${column}" from "${table}" where "${column}" is not ?`).pluck().all(value);
  if (more.length > 0 && draw(2) === 0) return more[draw(more.length)] as Cell;
  if (typeof value === 'number') return value + [1, -1, 86_400_000][draw(3)]!;
  if (typeof value === 'string') return value === '' ? 'x' : `${value.slice(1)}${value[0] === 'a' ? 'b' : 'a'}`;
  if (value === null) return (more[draw(more.length)] as Cell | undefined) ?? null;
  const turned = Buffer.from(value);
  if (turned.length === 0) return Buffer.from([1]);
  turned[draw(turned.length)]! ^= 1 << draw(8);
  return turned;
}

/** Changes one row as somebody with the file could; null where nothing came of it. */
function changeSomething(file: string, tables: readonly string[], draw: (below: number) => number): string | null {
  try {
    return besideTheLine(file, (db) => {
      const table = tables[draw(tables.length)]!;
      const rows = db.prepare(`select * from "${table}"`).all() as Record<string, Cell>[];
      const row = rows[draw(rows.length)];
      if (!row) return null;
      const columns = Object.keys(row);
      const same = columns.map((column) => `"${column}" is @${column}`).join(' and ');
      if (draw(4) === 0) {
        db.pragma('foreign_keys = off');
        db.prepare(`delete from "${table}" where ${same}`).run(row);
        return `${table}: a row taken away`;
      }
      const column = columns[draw(columns.length)]!;
      const value = other(db, table, column, row[column]!, draw);
      if (value === row[column] || (Buffer.isBuffer(value) && value.equals(row[column] as Buffer))) return null;
      const changed = db
        .prepare(`update "${table}" set "${column}" = @__value where ${same}`)
        .run({ ...row, __value: value }).changes;
      return changed === 0 ? null : `${table}.${column}: ${String(row[column])} became ${String(value)}`;
    });
  } catch {
    // What the tables themselves refuse: two people with one id, an instant that is no number.
    return null;
  }
}

describe('what was changed beside the line', () => {
  let folder: string;
  let whole: string;
  let keys: KeyRing;
  beforeAll(async () => {
    folder = mkdtempSync(join(tmpdir(), 'neckline-beside-'));
    whole = join(folder, 'whole.db');
    for (const course of courses) await playFile(join(plays, course), ['--db', whole]);
    keys = openKeyRing(`${whole}.key`);
    const store = await openStore({ url: `sqlite:${whole}`, keys });
    await store.dailyHead(Date.UTC(2031, 0, 1), 0);
    expect(await store.verify()).toEqual([]);
    await store.close();
    new Database(whole).pragma('wal_checkpoint(truncate)');
  }, 60_000);
  afterAll(() => rmSync(folder, { recursive: true, force: true }));

  const missed = async (tables: readonly string[], many: number, seed: number): Promise<readonly string[]> => {
    const draw = drawing(seed);
    const unseen: string[] = [];
    for (let done = 0; done < many; ) {
      const file = join(folder, 'changed.db');
      for (const side of ['-wal', '-shm']) rmSync(`${file}${side}`, { force: true });
      copyFileSync(whole, file);
      const what = changeSomething(file, tables, draw);
      if (what === null) continue;
      done += 1;
      const faults = await openStore({ url: `sqlite:${file}`, keys, exclusive: false }).then(
        async (store) => {
          const found = await store.verify();
          await store.close();
          return found.length;
        },
        () => 1,
      );
      if (faults === 0) unseen.push(what);
    }
    return unseen;
  };

  it('is found in people, addresses, questions, timers, specimens, cases and their histories, each time', async () => {
    expect(await missed(held, runs(60, 1_000), 7)).toEqual([]);
  }, 900_000);

  it('is found elsewhere 99 times in 100', async () => {
    const many = runs(40, 1_000);
    const unseen = await missed(rest, many, 11);
    expect(unseen.length, unseen.join('\n')).toBeLessThanOrEqual(Math.floor(many / 100));
  }, 900_000);

  it('is a row put back as it once was, too', async () => {
    const file = join(folder, 'back.db');
    copyFileSync(whole, file);
    const db = new Database(file);
    const row = db.prepare("select * from people where id = 'person-d'").get() as Record<string, Cell>;
    db.close();
    const store = await openStore({ url: `sqlite:${file}`, keys, exclusive: false });
    const [doctor] = (await store.roster('tamboro')).filter((one) => one.id === 'person-d');
    await store.putPeople([{ ...doctor!, state: 'suspended' }]);
    expect(await store.verify()).toEqual([]);
    const after = new Database(file);
    const columns = Object.keys(row).filter((one) => one !== 'id');
    after.prepare(`update people set ${columns.map((one) => `"${one}" = @${one}`).join(', ')} where id = @id`).run(row);
    after.close();
    expect((await store.verify()).join()).toMatch(/people: its rows are not what the line wrote/);
    await store.close();
  });

  it('is the witness itself taken away', async () => {
    const file = join(folder, 'none.db');
    copyFileSync(whole, file);
    const db = new Database(file);
    db.exec('delete from witness');
    db.close();
    const store = await openStore({ url: `sqlite:${file}`, keys, exclusive: false });
    expect(await store.verify()).toEqual(['witness: its rows are not what the line wrote']);
    await store.close();
  });

  it('is nothing that the line itself wrote and gave up again', async () => {
    const file = join(folder, 'undone.db');
    copyFileSync(whole, file);
    const store = await openStore({ url: `sqlite:${file}`, keys, exclusive: false });
    const [doctor] = (await store.roster('tamboro')).filter((one) => one.id === 'person-d');
    const taken = { ...doctor!, id: 'person-new' };
    // The second person has the first one's number: neither stays.
    await expect(store.putPeople([{ ...doctor!, locale: 'fr' }, taken])).rejects.toThrow();
    await store.putPeople([{ ...doctor!, locale: 'fr' }]);
    expect(await store.verify()).toEqual([]);
    await store.close();
  });
});
