import { type ChildProcess, execFile, spawn } from 'node:child_process';
import { mkdtempSync, readdirSync, readFileSync, renameSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { promisify } from 'node:util';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { openKeyRing } from '../../src/store/keys.ts';
import { openStore } from '../../src/store/open.ts';
import { contentWith, staffOf, workersOf, writeProgramme } from '../bench/clinics.ts';
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
async function start({ trial = true } = {}) {
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
  const command = [
    '-c',
    'umask 0; exec "$0" "$@"',
    process.execPath,
    '--import',
    loader,
    main,
    'start',
    ...(trial ? ['--trial'] : []),
  ];
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
  return { child, port, written, ended, calls, isServing };
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
    expect(line.written.out).toMatch(/serves sms at .*\nThis is a trial: .*\nUnsigned: \d+ values .* texts in English/);
    expect(await line.calls(secret)).toBe(200);
    expect(readdirSync(at('data'))).toEqual(
      expect.arrayContaining(['neckline.db', 'neckline.db-wal', 'neckline.db.lock']),
    );
    expect(openToOthers()).toEqual([]);
    line.child.kill('SIGTERM');
    expect(await line.ended).toBe(0);
  }, 120_000);

  it('takes the text of the call in the papers, and tells a call of another form what to send', async () => {
    const line = await start();
    await line.isServing();
    const papers = readFileSync(new URL('../../deploy/sms.md', import.meta.url), 'utf8');
    writeFileSync(at('secret'), `${secret}\n`);
    const example = /^ {4}(curl .*)$/m.exec(papers)![1]!;
    const command = example.replace('/etc/neckline/sms-secret', at('secret')).replace(':8099', `:${line.port}`);
    const answerTo = async (typed: string) =>
      (await promisify(execFile)('bash', ['-c', `${typed} -s`])).stdout.split('\r\n');
    expect((await answerTo(command))[0]).toBe('HTTP/1.1 200 OK');
    const form = command.replace("-H 'Content-Type: text/plain' ", '').replace('try-1', 'try-2');
    const [status, ...head] = await answerTo(form);
    expect(status).toBe('HTTP/1.1 503 Send the text itself as the body, with content-type text/plain');
    // Nothing that a gateway could pass on to the phone.
    expect(head).toContain('content-length: 0');
    line.child.kill('SIGTERM');
    expect(await line.ended).toBe(0);
  }, 120_000);

  it('goes on when nobody reads its log any more', async () => {
    // A complete programme: no trial.
    const { id } = contentWith(writeProgramme(folder, 2)).programme;
    const store = await openStore({
      url: `sqlite:${at('data', 'neckline.db')}`,
      keys: openKeyRing(at('keys', 'line.key')),
    });
    await store.putPeople([...workersOf(id, 2), ...staffOf(id)]);
    await store.close();
    const line = await start({ trial: false });
    await line.isServing();
    expect(line.written.out).not.toMatch(/trial/);
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
