import { copyFileSync, existsSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { createServer, type Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { gunzipSync } from 'node:zlib';
import Database from 'better-sqlite3';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { runAlert } from '../../src/cli/alert.ts';
import { runBackup } from '../../src/cli/backup.ts';
import { runKeys } from '../../src/cli/keys.ts';
import { lastBackup } from '../../src/line/last-backup.ts';
import { openKeyRing } from '../../src/store/keys.ts';
import { openStore } from '../../src/store/open.ts';
import type { LineStore } from '../../src/store/store.ts';

let folder: string;
let server: Server;
let status: number;
let told: { what: string; state: string; text: string }[];
const at = (...parts: string[]): string => join(folder, ...parts);

beforeEach(async () => {
  folder = mkdtempSync(join(tmpdir(), 'neckline-alert-'));
  for (const name of ['data', 'keys', 'safe']) mkdirSync(at(name));
  told = [];
  status = 200;
  server = createServer(async (request, response) => {
    let body = '';
    for await (const part of request) body += part;
    told.push(JSON.parse(body));
    response.writeHead(status).end();
  });
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  vi.stubEnv('NECKLINE_DATA', at('data'));
  vi.stubEnv('NECKLINE_KEY_FILE', at('keys', 'line.key'));
  vi.stubEnv('NECKLINE_BACKUP_KEY', at('keys', 'backup.public'));
  vi.stubEnv('NECKLINE_ALERT_URL', `http://127.0.0.1:${(server.address() as AddressInfo).port}/hook`);
  await withStore(async () => undefined);
});
afterEach(() => {
  vi.unstubAllEnvs();
  server.closeAllConnections();
  server.close();
  rmSync(folder, { recursive: true, force: true });
});

async function withStore<T>(work: (store: LineStore) => Promise<T>): Promise<T> {
  const url = `sqlite:${at('data', 'neckline.db')}`;
  const store = await openStore({ url, keys: openKeyRing(at('keys', 'line.key')), exclusive: false });
  try {
    return await work(store);
  } finally {
    await store.close();
  }
}

async function run(command: typeof runAlert, ...args: string[]) {
  const written = { out: '', err: '' };
  const exit = await command(args, {
    stdout: { write: (text: string) => (written.out += text) },
    stderr: { write: (text: string) => (written.err += text) },
  });
  return { exit, ...written };
}
const alert = (...args: string[]) => run(runAlert, ...args);

describe('neckline alert', () => {
  it('tries the address with words that say that it is a test', async () => {
    expect(await alert('test')).toEqual({ exit: 0, out: 'the address took it\n', err: '' });
    expect(told).toMatchObject([{ what: 'test', state: 'begun', text: expect.stringContaining('This is a test.') }]);
  });

  it('says with exit 1 that the address took nothing, or that none is set', async () => {
    status = 500;
    expect(await alert('test')).toMatchObject({ exit: 1, err: expect.stringContaining('did not take it') });
    vi.stubEnv('NECKLINE_ALERT_URL', '');
    expect(await alert('test')).toMatchObject({
      exit: 1,
      err: expect.stringContaining('NECKLINE_ALERT_URL is not set'),
    });
    expect(await alert('line-down')).toMatchObject({ exit: 1, out: '' });
  });

  it('that the line is down is posted once, however often the unit fails within the hour', async () => {
    expect((await alert('line-down')).exit).toBe(0);
    expect(await alert('line-down')).toMatchObject({ exit: 0, out: 'said before; the address is not told again\n' });
    expect(told).toMatchObject([{ what: 'line', state: 'begun', text: expect.stringContaining('has stopped') }]);
  });

  it('that the line is down is said also when its database cannot be opened: that may be why', async () => {
    rmSync(at('keys', 'line.key'));
    const { exit, err } = await alert('line-down');
    expect(exit).toBe(0);
    expect(err).toContain('the key file of this database is gone');
    expect(told).toMatchObject([{ what: 'line' }]);
  });

  it('is said also when the programme has a fault: that may be why the line is down', async () => {
    writeFileSync(at('programme.yaml'), 'name: [unfinished');
    vi.stubEnv('NECKLINE_PROGRAMME', at('programme.yaml'));
    expect((await alert('line-down')).exit).toBe(0);
    expect(told).toMatchObject([{ what: 'line', text: expect.stringMatching(/^Neckline: The line has stopped/) }]);
  });

  it('of a failed backup is told by a line that runs; where none does, by the command', async () => {
    await withStore((store) => store.setMark('alive', String(Date.now() - 20_000)));
    expect(await alert('backup-failed')).toMatchObject({ exit: 0, out: expect.stringContaining('the line tells it') });
    expect(told).toEqual([]);
    expect(await withStore(lastBackup)).toMatchObject({ failedAt: expect.any(Number) });
    await withStore((store) => store.setMark('alive', String(Date.now() - 300_000)));
    expect(await alert('backup-failed')).toMatchObject({ exit: 0, out: 'the address took it\n' });
    expect(told).toMatchObject([{ what: 'backup', text: expect.stringContaining('A backup of the line failed') }]);
  });

  it.each([[[]], [['nonsense']], [['test', 'more']], [['toString']]])('%j is refused with its usage', async (args) => {
    expect(await alert(...args)).toMatchObject({
      exit: 2,
      err: expect.stringContaining('neckline alert backup-failed'),
    });
    expect(told).toEqual([]);
  });
});

describe('neckline backup', () => {
  beforeEach(async () => {
    expect((await run(runKeys, 'backup-pair', at('keys', 'backup'))).exit).toBe(0);
  });

  it('notes in the database when a copy was made, which ends what was said of a failed one', async () => {
    await alert('backup-failed');
    const before = Date.now();
    const { exit, err } = await run(runBackup, at('safe', 'one.backup'));
    expect([exit, err]).toEqual([0, expect.stringMatching(/^database [^\n]*\n$/)]);
    const last = await withStore(lastBackup);
    expect(last).toMatchObject({ faults: 0, failedAt: null });
    expect(last.madeAt).toBeGreaterThanOrEqual(before);
  });

  it('notes nothing when no copy was made, and says in a sentence that the folder is not there', async () => {
    expect(await run(runBackup, at('nowhere', 'one.backup'))).toMatchObject({
      exit: 2,
      err: expect.stringMatching(/nowhere: there is no such folder/),
    });
    expect((await withStore(lastBackup)).madeAt).toBeNull();
  });

  it('leaves a database of an older version as it is, and says that the copy is not noted in it', async () => {
    const kept = new URL('../store/kept/', import.meta.url);
    rmSync(at('data'), { recursive: true });
    mkdirSync(at('data'));
    writeFileSync(at('data', 'neckline.db'), gunzipSync(readFileSync(new URL('0008.db.gz', kept))));
    copyFileSync(new URL('kept.key', kept), at('keys', 'line.key'));
    const changes = (): number => {
      const db = new Database(at('data', 'neckline.db'), { readonly: true });
      const count = db.prepare('select count(*) from kysely_migration').pluck().get() as number;
      db.close();
      return count;
    };
    const before = changes();
    const { err, out } = await run(runBackup, at('safe', 'one.backup'));
    expect(existsSync(at('safe', 'one.backup'))).toBe(true);
    expect(out).toContain('read back');
    expect(err).toContain('the copy is made but not noted (written by an older version)');
    expect(changes()).toBe(before);
  });

  it('--noted takes the word of another tool for it', async () => {
    expect(await run(runBackup, '--noted')).toMatchObject({ exit: 0, out: expect.stringContaining('noted') });
    expect((await withStore(lastBackup)).madeAt).toBeGreaterThan(0);
    expect((await run(runBackup, '--noted', 'FILE')).exit).toBe(2);
  });
});
