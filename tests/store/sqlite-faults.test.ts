import { type ChildProcess, spawn } from 'node:child_process';
import { chmodSync, readdirSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import Sqlite from 'better-sqlite3';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { checkSqliteVersion } from '../../src/store/dialects/sqlite.ts';
import { isLocked } from '../../src/store/dialects/sqlite-lock.ts';
import { keyRingOf, keyRingOfFile, openKeyRing } from '../../src/store/keys.ts';
import { openStore } from '../../src/store/open.ts';
import { change, message, person, phone, programmeId } from '../contract/store-samples.ts';
import { diskFolder } from '../support/disk-folder.ts';

const keys = keyRingOf(Buffer.alloc(32, 7));
const line = join(import.meta.dirname, 'line-process.ts');

describe('the SQLite file', () => {
  let folder: string;
  let file: string;
  let url: string;
  const children: ChildProcess[] = [];

  beforeEach(() => {
    folder = diskFolder('neckline-faults-');
    file = join(folder, 'neckline.db');
    url = `sqlite:${file}`;
  });
  afterEach(() => {
    for (const child of children.splice(0)) child.kill('SIGKILL');
    rmSync(folder, { recursive: true, force: true });
  });

  function start(commits: number, fileLimitKb: number | null = null): { child: ChildProcess; lines: string[] } {
    const node = ['--import', 'tsx', line, file, String(commits)];
    const child =
      fileLimitKb === null
        ? spawn(process.execPath, node)
        : spawn('bash', ['-c', `ulimit -f ${fileLimitKb}; exec "$0" "$@"`, process.execPath, ...node]);
    children.push(child);
    const lines: string[] = [];
    let rest = '';
    child.stdout!.on('data', (chunk: Buffer) => {
      const parts = (rest + chunk.toString()).split('\n');
      rest = parts.pop() ?? '';
      lines.push(...parts);
    });
    return { child, lines };
  }
  const ended = (child: ChildProcess) => new Promise<void>((resolve) => child.once('close', () => resolve()));
  const until = async (seen: () => boolean, child: ChildProcess) => {
    while (!seen() && child.exitCode === null) await new Promise((resolve) => child.stdout!.once('data', resolve));
    expect(seen()).toBe(true);
  };

  it('loses nothing that it had called committed when the process is killed', async () => {
    const { child, lines } = start(0);
    await until(() => lines.length > 60, child);
    child.kill('SIGKILL');
    await ended(child);
    const said = lines.filter((one) => one.endsWith(' committed')).map((one) => one.split(' ')[0]);
    const store = await openStore({ url, keys });
    const kept = (await store.messages({ personId: 'w1' })).map((row) => row.id.split(':')[0]);
    expect(said.length).toBeGreaterThan(50);
    expect(kept.slice(0, said.length)).toEqual(said);
    // The commit that was under way when the process died is there as a whole or not at all.
    expect(kept.length % 2).toBe(0);
    await store.close();
  });

  // A killed process leaves what it wrote to the system, so that no kill can show this.
  it('waits for the disk with each commit', async () => {
    const settings = vi.spyOn(Sqlite.prototype, 'pragma');
    const store = await openStore({ url, keys });
    const opened = [...new Set(settings.mock.contexts)] as Sqlite.Database[];
    settings.mockRestore();
    const full = 2;
    expect(opened.length).toBeGreaterThan(1);
    for (const one of opened) expect(one.pragma('synchronous', { simple: true })).toBe(full);
    await store.close();
  });

  it('answers unavailable on a full disk, keeps what was there, and goes on when there is room', async () => {
    const { child, lines } = start(400, 900);
    await ended(child);
    const said = lines.filter((one) => one.endsWith(' committed')).length;
    expect(lines.filter((one) => one.endsWith(' unavailable')).length).toBeGreaterThan(10);
    expect(said).toBeGreaterThan(10);
    expect(lines.at(-1)).toBe(`left ${said}`);
    const store = await openStore({ url, keys });
    expect(await store.messages({ personId: 'w1' })).toHaveLength(said);
    expect(await store.commit([change('later', { outbox: [message('later:0', 'w1')] })])).toEqual(['committed']);
    await store.close();
  });

  it('belongs to one line at a time, and is free again after a kill', async () => {
    const { child, lines } = start(0);
    await until(() => lines.includes('ready'), child);
    expect(isLocked(file)).toBe(true);
    await expect(openStore({ url, keys })).rejects.toMatchObject({ code: 'locked' });
    const beside = await openStore({ url, keys, exclusive: false });
    expect((await beside.roster(programmeId)).map((row) => row.id)).toEqual(['w1']);
    await beside.close();
    child.kill('SIGKILL');
    await ended(child);
    expect(isLocked(file)).toBe(false);
    const store = await openStore({ url, keys });
    await expect(openStore({ url, keys })).rejects.toMatchObject({ code: 'locked' });
    await store.close();
  });

  it('belongs to one line at a time though its lock file was taken away', async () => {
    const { child, lines } = start(0);
    await until(() => lines.includes('ready'), child);
    rmSync(`${file}.lock`);
    await expect(openStore({ url, keys })).rejects.toMatchObject({ code: 'locked' });
    // The next one finds the file that this one made, and is refused all the same.
    await expect(openStore({ url, keys })).rejects.toMatchObject({ code: 'locked' });
    child.kill('SIGKILL');
    await ended(child);
    await (await openStore({ url, keys })).close();
  });

  it('is made for its owner only, with all that stands beside it, and is closed to others when it was open', async () => {
    const { mode } = statSync(folder);
    const inside = join(folder, 'new', 'neckline.db');
    const store = await openStore({ url: `sqlite:${inside}`, keys });
    await store.putPeople([person('w1')]);
    const open = () =>
      readdirSync(join(folder, 'new')).filter((name) => (statSync(join(folder, 'new', name)).mode & 0o077) !== 0);
    const made = ['neckline.db', 'neckline.db-shm', 'neckline.db-wal', 'neckline.db.lock'];
    expect(readdirSync(join(folder, 'new'))).toEqual(expect.arrayContaining(made));
    expect(statSync(join(folder, 'new')).mode & 0o777).toBe(0o700);
    expect(open()).toEqual([]);
    await store.close();
    chmodSync(inside, 0o644);
    chmodSync(`${inside}.lock`, 0o664);
    await (await openStore({ url: `sqlite:${inside}`, keys })).close();
    expect(open()).toEqual([]);
    // A folder that was there is its owner's business.
    expect(statSync(folder).mode).toBe(mode);
  });

  it('makes no key file for a database that was written with another', async () => {
    await (await openStore({ url, keys })).close();
    const asked: boolean[] = [];
    const ring = (isWritten: boolean) => {
      asked.push(isWritten);
      return isWritten ? keyRingOfFile(join(folder, 'gone.key')) : keys;
    };
    await expect(openStore({ url, keys: ring })).rejects.toMatchObject({ code: 'no-key-file' });
    expect(readdirSync(folder)).not.toContain('gone.key');
    // Nothing holds the database after a refusal.
    await (await openStore({ url, keys })).close();
    await (await openStore({ url: `sqlite:${join(folder, 'fresh.db')}`, keys: ring })).close();
    expect(asked).toEqual([true, false]);
  });

  it('refuses another key file than the one it was written with', async () => {
    await (await openStore({ url, keys })).close();
    const other = keyRingOf(Buffer.alloc(32, 8));
    await expect(openStore({ url, keys: other })).rejects.toMatchObject({ code: 'wrong-key' });
    await (await openStore({ url, keys })).close();
  });

  it('refuses a database that a newer line has written', async () => {
    await (await openStore({ url, keys })).close();
    const db = new Sqlite(file);
    db.exec("insert into kysely_migration (name, timestamp) values ('9999-later', '2040-01-01')");
    db.close();
    await expect(openStore({ url, keys })).rejects.toMatchObject({ code: 'newer-schema' });
  });

  it('holds no name, number or text that can be read, also in its side files', async () => {
    const store = await openStore({ url, keys });
    await store.putPeople([person('w1', { name: 'Visible Name' })]);
    await store.commit([
      change('e', {
        keys: ['sms:bench:w1:visible-key'],
        inbound: { address: phone('w1'), personId: 'w1', caseId: null, text: 'visible words in', networkAt: null },
        outbox: [message('e:0', 'w1', { text: 'visible words out' })],
      }),
    ]);
    const beside = new Sqlite(file, { readonly: true });
    const tables = beside.prepare("select name from sqlite_master where type = 'table'").pluck().all() as string[];
    const bytes = tables.flatMap((table) =>
      beside
        .prepare(`select * from "${table}"`)
        .raw()
        .all()
        .flatMap((row) => (row as unknown[]).map((value) => Buffer.from(String(value)).toString('latin1'))),
    );
    beside.close();
    for (const hidden of ['isible', 'bench:w1']) expect(bytes.filter((one) => one.includes(hidden))).toEqual([]);
    await store.close();
  });

  it('is copied while it runs, and the copy opens', async () => {
    const store = await openStore({ url, keys });
    await store.putPeople([person('w1')]);
    const copy = join(folder, 'copy.db');
    expect(await store.copyTo(copy)).toBe(true);
    const second = await openStore({ url: `sqlite:${copy}`, keys });
    expect((await second.roster(programmeId)).map((row) => row.id)).toEqual(['w1']);
    await second.close();
    await store.close();
  });

  it.each(['sqlite:', 'sqlite::memory:', 'mysql://x/y', 'neckline.db'])('refuses the address "%s"', async (address) => {
    await expect(openStore({ url: address, keys })).rejects.toMatchObject({ code: 'bad-url' });
  });

  it.each([
    ['3.51.2', false],
    ['3.51.3', true],
    ['3.52.0', true],
    ['3.50.9', false],
    ['4.0.0', true],
  ])('SQLite %s is good enough: %s', (version, good) => {
    const check = () => checkSqliteVersion(version);
    if (good) expect(check).not.toThrow();
    else expect(check).toThrow(/old-sqlite/);
  });

  describe('key file', () => {
    it('is made once, for its owner only, and read again', () => {
      const path = join(folder, 'keys', 'neckline.key');
      const made = openKeyRing(path);
      expect(statSync(path).mode & 0o777).toBe(0o600);
      expect(openKeyRing(path).fingerprint).toBe(made.fingerprint);
      expect(openKeyRing(join(folder, 'other.key')).fingerprint).not.toBe(made.fingerprint);
    });

    it.each(['', '{}', '{"version":2,"key":"AAAA"}', '{"version":1,"key":"AAAA"}'])(
      'refuses a file that holds %s',
      (content) => {
        const path = join(folder, 'neckline.key');
        writeFileSync(path, content);
        expect(() => openKeyRing(path)).toThrow(/bad-key-file/);
      },
    );
  });
});
