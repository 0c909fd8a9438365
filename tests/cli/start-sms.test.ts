import { type ChildProcess, spawn } from 'node:child_process';
import { mkdtempSync, readdirSync, readFileSync, renameSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { freePort } from '../support/free-port.ts';

const main = fileURLToPath(new URL('../../src/main.ts', import.meta.url));
const loader = import.meta.resolve('tsx');
const secret = 'a-secret-of-the-gateway';

let folder: string;
const running = new Set<ChildProcess>();
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'neckline-sms-start-'));
  const sample = readFileSync(new URL('../../flows/programme.yaml', import.meta.url), 'utf8');
  writeFileSync(join(folder, 'programme.yaml'), sample.replace('"bench:voice"', '"+000555010090"'));
});
afterEach(() => {
  for (const one of running) one.kill('SIGKILL');
  running.clear();
  rmSync(folder, { recursive: true, force: true });
});

const at = (...parts: string[]): string => join(folder, ...parts);

/** Starts the line as somebody would whose files are open to everybody. */
async function start() {
  const port = await freePort();
  const env = {
    PATH: process.env.PATH,
    NECKLINE_DATA: at('data'),
    NECKLINE_KEY_FILE: at('keys', 'line.key'),
    NECKLINE_PROGRAMME: at('programme.yaml'),
    NECKLINE_SMS_GATEWAY: 'kannel',
    NECKLINE_SMS_SEND_URL: 'http://127.0.0.1:1/none',
    NECKLINE_SMS_NUMBER: '1234',
    NECKLINE_SMS_SECRET: secret,
    NECKLINE_SMS_PREFIXES: '+000555',
    NECKLINE_HTTP_PORT: String(port),
  };
  const command = ['-c', 'umask 0; exec "$0" "$@"', process.execPath, '--import', loader, main, 'start'];
  const child = spawn('bash', command, { env, stdio: ['ignore', 'pipe', 'pipe'] });
  running.add(child);
  const written = { out: '', err: '' };
  child.stdout.on('data', (part) => (written.out += part));
  child.stderr.on('data', (part) => (written.err += part));
  const ended = new Promise<number | null>((resolve) => {
    child.once('close', (exit) => {
      running.delete(child);
      resolve(exit);
    });
  });
  const calls = async (shown: string): Promise<number> => {
    const query = new URLSearchParams({ id: shown, from: '+000555010001', to: '1234', time: '1898841600' });
    const headers = { 'x-neckline-secret': shown };
    return (await fetch(`http://127.0.0.1:${port}/sms/in?${query}`, { method: 'POST', headers, body: 'LIST' })).status;
  };
  const isServing = async (): Promise<void> => {
    await Promise.race([ended, expect.poll(() => written.out, { timeout: 60_000 }).toContain('serves')]);
    expect(written.err).not.toMatch(/refused|gone|error/);
    expect(child.exitCode).toBeNull();
  };
  return { child, written, ended, calls, isServing };
}

/** What others may do with each file and folder of the data. */
function openToOthers(): readonly string[] {
  const under = (path: string): readonly string[] =>
    statSync(path).isDirectory() ? [path, ...readdirSync(path).flatMap((name) => under(join(path, name)))] : [path];
  return [at('data'), at('keys')].flatMap(under).filter((path) => (statSync(path).mode & 0o077) !== 0);
}

describe('neckline start with an SMS gateway', () => {
  it('makes everything for its own user only, whoever starts it', async () => {
    const line = await start();
    await line.isServing();
    expect(await line.calls(secret)).toBe(200);
    expect(readdirSync(at('data'))).toEqual(
      expect.arrayContaining(['neckline.db', 'neckline.db-wal', 'neckline.db.lock']),
    );
    expect(openToOthers()).toEqual([]);
    line.child.kill('SIGTERM');
    expect(await line.ended).toBe(0);
  }, 120_000);

  it('goes on when nobody reads its log any more', async () => {
    const line = await start();
    await line.isServing();
    line.child.stderr.destroy();
    line.child.stdout.destroy();
    // Each is a line of the log.
    for (let count = 0; count < 3; count += 1) expect(await line.calls('a-guess-of-a-stranger')).toBe(403);
    expect(await line.calls(secret)).toBe(200);
    line.child.kill('SIGTERM');
    expect(await line.ended).toBe(0);
  }, 120_000);

  it('refuses to start when the key file of its database is gone, and makes none in its place', async () => {
    const first = await start();
    await first.isServing();
    first.child.kill('SIGTERM');
    await first.ended;
    renameSync(at('keys', 'line.key'), at('taken-away.key'));
    const second = await start();
    expect(await second.ended).toBe(2);
    expect(second.written.err).toMatch(/line\.key: the key file of this database is gone; put it back/);
    expect(readdirSync(at('keys'))).toEqual([]);
    renameSync(at('taken-away.key'), at('keys', 'line.key'));
    const third = await start();
    await third.isServing();
  }, 120_000);
});
