import { closeSync, mkdtempSync, openSync, readdirSync, readFileSync, rmSync, writeSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import Sqlite from 'better-sqlite3';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import type { CaseEvent } from '../../src/case/events.ts';
import { keyRingOf } from '../../src/store/keys.ts';
import { openStore } from '../../src/store/open.ts';
import type { LineStore } from '../../src/store/store.ts';
import { answered, change, grown, morning, opened, person } from '../contract/store-samples.ts';
import { besideTheLine } from '../support/beside-the-line.ts';

describe('what the SQLite file keeps and what it does not', () => {
  let folder: string;
  let file: string;
  let store: LineStore;
  const connections = new Set<Sqlite.Database>();

  beforeEach(async () => {
    connections.clear();
    const { prepare } = Sqlite.prototype;
    vi.spyOn(Sqlite.prototype, 'prepare').mockImplementation(function (this: Sqlite.Database, text: string) {
      connections.add(this);
      return prepare.call(this, text);
    } as typeof prepare);
    folder = mkdtempSync(join(tmpdir(), 'neckline-durable-'));
    file = join(folder, 'neckline.db');
    store = await openStore({ url: `sqlite:${file}`, keys: keyRingOf(Buffer.alloc(32, 7)) });
    await store.putPeople([person('w1')]);
  });
  afterEach(async () => {
    vi.restoreAllMocks();
    await store.close();
    rmSync(folder, { recursive: true, force: true });
  });

  const openCase = async (id: string, events: readonly CaseEvent[] = [opened, answered]) => {
    const value = grown(id, events);
    expect(await store.commit([change(`e-${id}`, { cases: [value] })])).toEqual(['committed']);
    return value;
  };
  /** Whether bytes stand anywhere in the folder: database, log, free pages. */
  const isThere = (bytes: Buffer): boolean =>
    readdirSync(folder).some((name) => readFileSync(join(folder, name)).includes(bytes));
  const beside = <T>(look: (db: Sqlite.Database) => T): T => besideTheLine(file, look);
  const wrappedOf = (id: string): Buffer =>
    beside((db) => db.prepare('select wrapped from data_keys where id = ?').pluck().get(`case:${id}`) as Buffer);

  it('every connection writes what it commits through to the disk, and overwrites what it erases', () => {
    const open = [...connections].filter((one) => one.open);
    expect(open.length).toBeGreaterThan(0);
    for (const one of open) {
      // 2 = full; 2 = fast (sqlite.org, pragmas synchronous and secure_delete).
      expect(one.pragma('synchronous', { simple: true })).toBe(2);
      expect(one.pragma('secure_delete', { simple: true })).toBe(2);
      expect(one.pragma('journal_mode', { simple: true })).toBe('wal');
    }
  });

  it('an erased case leaves no byte of its key: not in the file, not in its log, not on free pages', async () => {
    for (let number = 0; number < 40; number += 1) await openCase(`c${number}`);
    const keys = ['c3', 'c20', 'c39'].map(wrappedOf);
    expect(keys.map(isThere)).toEqual([true, true, true]);
    for (const id of ['c3', 'c20', 'c39']) expect(await store.eraseCase(id, morning)).toBe(true);
    expect(await store.scrub()).toBe('gone');
    expect(keys.map(isThere)).toEqual([false, false, false]);
  });

  it('a file whose pages do not hold together is told from one that is sound', async () => {
    for (let number = 0; number < 40; number += 1) await openCase(`c${number}`);
    beside((db) => db.pragma('wal_checkpoint(truncate)'));
    expect(await store.isSound()).toBe(true);
    const pages = beside((db) => db.pragma('page_count', { simple: true }) as number);
    const handle = openSync(file, 'r+');
    const damage = (page: number) => writeSync(handle, Buffer.alloc(8, 0xff), 0, 8, page * 4096);
    damage(pages - 1);
    expect(await store.isSound()).toBe(false);
    for (let page = 2; page < pages; page += 1) damage(page);
    closeSync(handle);
    expect(await store.isSound()).toBe(false);
  });

  it('while somebody reads an older state the key may still be there, and this is said; afterwards it goes', async () => {
    await openCase('c1');
    const key = wrappedOf('c1');
    const reader = new Sqlite(file, { readonly: true });
    reader.exec('begin');
    reader.prepare('select count(*) from cases').get();
    expect(await store.eraseCase('c1', morning)).toBe(true);
    expect(await store.scrub()).toBe('held');
    expect(isThere(key)).toBe(true);
    // Others write meanwhile.
    await openCase('c2');
    reader.exec('rollback');
    reader.close();
    expect(await store.scrub()).toBe('gone');
    expect(isThere(key)).toBe(false);
  });

  it('an older state of a case, put back under its own name, is found', async () => {
    const first = await openCase('c1');
    const old = beside((db) => db.prepare("select fold_sealed from cases where id = 'c1'").pluck().get());
    const more = grown('c1', [{ type: 'answered', field: 'composition', item: 'n1', value: 'cystic' }], {
      value: first.value,
      version: 1,
      records: first.all,
    });
    expect(await store.commit([change('more', { cases: [more] })])).toEqual(['committed']);
    expect(await store.verify()).toEqual([]);
    beside((db) => db.prepare("update cases set fold_sealed = ? where id = 'c1'").run(old));
    expect((await store.verify()).join('\n')).toContain('the stored case is not what its history gives');
  });
});
