import { type ChildProcess, spawn } from 'node:child_process';
import { existsSync, mkdtempSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { runStart } from '../../src/cli/start.ts';
import { openKeyRing } from '../../src/store/keys.ts';
import { openStore } from '../../src/store/open.ts';
import { freePort } from '../support/free-port.ts';

const main = fileURLToPath(new URL('../../src/main.ts', import.meta.url));
const loader = import.meta.resolve('tsx');

let folder: string;
const running = new Set<ChildProcess>();
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'neckline-start-'));
});
afterEach(() => {
  for (const one of running) one.kill('SIGKILL');
  running.clear();
  vi.unstubAllEnvs();
  rmSync(folder, { recursive: true, force: true });
});

interface Ended {
  readonly exit: number | null;
  readonly signal: string | null;
  readonly out: string;
  readonly err: string;
}

/** Runs the command in an empty folder with these settings only. */
function run(settings: Record<string, string>) {
  const child = spawn(process.execPath, ['--import', loader, main, 'start'], {
    cwd: folder,
    env: { PATH: process.env.PATH, ...settings },
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  running.add(child);
  const written = { out: '', err: '' };
  child.stdout.on('data', (part) => {
    written.out += part;
  });
  child.stderr.on('data', (part) => {
    written.err += part;
  });
  const ended = new Promise<Ended>((resolve) => {
    child.on('close', (exit, signal) => {
      running.delete(child);
      resolve({ exit, signal, ...written });
    });
  });
  const address = new Promise<string>((resolve, reject) => {
    child.stdout.on('data', () => {
      const found = /(http:\S+)\n/.exec(written.out);
      if (found) resolve(found[1]!);
    });
    void ended.then((how) => reject(new Error(`ended with ${how.exit}: ${how.err}`)));
  });
  address.catch(() => undefined);
  return { child, ended, address };
}

/** Runs the command in this process: for starts that must be refused, which leave nothing behind. */
async function refused(settings: Record<string, string>, ...args: readonly string[]) {
  const written = { out: '', err: '' };
  const into = (stream: 'out' | 'err') => ({
    write: (text: string) => {
      written[stream] += text;
    },
  });
  for (const [name, value] of Object.entries({ NECKLINE_DATA: join(folder, 'data'), ...settings })) {
    vi.stubEnv(name, value);
  }
  const exit = await runStart(args, { stdout: into('out'), stderr: into('err') });
  return { exit, ...written };
}

async function post(address: string, path: string, body: unknown): Promise<Record<string, unknown>> {
  const headers = { 'content-type': 'application/json' };
  const response = await fetch(new URL(path, address), { method: 'POST', headers, body: JSON.stringify(body) });
  return (await response.json()) as Record<string, unknown>;
}

interface Person {
  readonly address: string;
  readonly roles: readonly string[];
  readonly texts: readonly { readonly out: boolean; readonly text: string }[];
}

async function people(address: string): Promise<readonly Person[]> {
  return ((await (await fetch(new URL('/state', address))).json()) as { people: Person[] }).people;
}

const oneLine = /^[^\n]+\n$/;
const keyPlace = 'the key file stands in the data folder';
/** Of the package's programme, where nobody is known yet. */
const invented = ['has no voice number', 'The programme is the invented one'] as const;
const incomplete = [...invented, 'No doctor', 'No coordinator', 'The clinic oruma', 'The clinic kesu'] as const;

/** Settings of a line on Telegram that no network is asked for: it is refused before. */
function onTelegram(programme: string): Record<string, string> {
  const file = join(folder, 'programme.yaml');
  writeFileSync(file, programme);
  return {
    NECKLINE_TELEGRAM_TOKEN: '123456:abcdef',
    NECKLINE_KEY_FILE: join(folder, 'keys', 'line.key'),
    NECKLINE_PROGRAMME: file,
  };
}

describe('neckline start on real channels', () => {
  const shipped = readFileSync(new URL('../../flows/programme.yaml', import.meta.url), 'utf8');

  it('refuses a programme that is incomplete, with a line for each thing that is missing, and makes no database', async () => {
    const { exit, out, err } = await refused(onTelegram(`${shipped}# ours\n`));
    expect([exit, out]).toEqual([2, '']);
    const lines = err.trimEnd().split('\n');
    const wanted = [
      /voice number/,
      /Tamboro Hospital is invented/,
      /No doctor/,
      /No coordinator/,
      /clinic oruma/,
      /clinic kesu/,
    ];
    for (const one of wanted)
      expect(
        lines.filter((line) => one.test(line)),
        String(one),
      ).toHaveLength(1);
    expect(lines.every((line) => /\.$/.test(line))).toBe(true);
    expect(err).not.toMatch(/123456|backup|signed/);
    expect(existsSync(join(folder, 'data', 'neckline.db'))).toBe(false);
  });

  it('refuses a trial too where nobody could be called', async () => {
    const { exit, err } = await refused(onTelegram(shipped), '--trial');
    expect(exit).toBe(2);
    expect(err).toMatch(/^The programme has no voice number that can be dialled\. .*\n$/);
  });

  it('knows no trial on the phone bench', async () => {
    const { exit, err } = await refused({ NECKLINE_BENCH_PORT: '0' }, '--trial');
    expect([exit, err.split('\n').length]).toEqual([2, 2]);
  });
});

describe('neckline start', () => {
  it('with nothing configured prints the address and which languages no nurse has read, and serves the phones of the demo roster', async () => {
    const port = await freePort();
    const line = run({ NECKLINE_BENCH_PORT: String(port) });
    const address = await line.address;
    expect(address).toBe(`http://127.0.0.1:${port}/`);
    expect((await people(address)).map((one) => one.address)).toEqual(
      expect.arrayContaining(['bench:worker', 'bench:doctor', 'bench:lab', 'bench:coordinator']),
    );
    const withRole = async (role: string) => (await people(address)).filter((one) => one.roles.includes(role)).length;
    expect([await withRole('worker'), await withRole('doctor'), await withRole('lab')]).toEqual([3, 2, 2]);
    expect(readFileSync(join(folder, 'data', 'demo', 'roster.csv'), 'utf8')).toMatch(
      /^name,roles,channel,address,site,locale\n/,
    );
    for (const name of ['.', 'neckline.key', 'neckline.db', 'demo', 'demo/roster.csv'])
      expect(statSync(join(folder, 'data', name)).mode & 0o077, name).toBe(0);

    await post(address, '/send', { address: 'bench:worker', text: 'LIST' });
    await expect
      .poll(async () => (await people(address)).find((one) => one.address === 'bench:worker')!.texts.length)
      .toBeGreaterThan(1);

    const asked = Date.now();
    line.child.kill('SIGTERM');
    const how = await line.ended;
    expect(Date.now() - asked).toBeLessThan(5_000);
    expect(how).toMatchObject({ exit: 0, signal: null });
    expect(how.out).toBe(`Phone bench: ${address}\nRead by a nurse: none yet (ar, en, es, fr, pt, sw)\n`);
  });

  it('goes on after a kill with the same people and texts', async () => {
    const settings = { NECKLINE_BENCH_PORT: String(await freePort()) };
    const first = run(settings);
    let address = await first.address;
    await post(address, '/send', { address: 'bench:worker', text: 'LIST' });
    first.child.kill('SIGKILL');
    await first.ended;
    const second = run(settings);
    address = await second.address;
    const worker = (await people(address)).find((one) => one.address === 'bench:worker')!;
    expect(worker.texts.map((one) => one.text)).toContain('LIST');
    expect(await people(address)).toHaveLength(8);
    second.child.kill('SIGINT');
    expect((await second.ended).exit).toBe(0);
  });

  it('refuses a second line on the same database, and a taken port', async () => {
    const port = await freePort();
    const first = run({ NECKLINE_BENCH_PORT: String(port) });
    await first.address;
    const second = await refused({ NECKLINE_BENCH_PORT: String(await freePort()) });
    expect(second).toMatchObject({ exit: 2, out: '' });
    expect(second.err).toMatch(oneLine);
    const third = await refused({ NECKLINE_BENCH_PORT: String(port), NECKLINE_DATA: join(folder, 'other') });
    expect(third).toMatchObject({ exit: 2, out: '' });
    expect(third.err).toMatch(new RegExp(`^a new database is made: [^\\n]+\\nport ${port} is taken[^\\n]+\\n$`));
  });

  it('refuses a database that a real channel used', async () => {
    const data = join(folder, 'data');
    const store = await openStore({
      url: `sqlite:${join(data, 'neckline.db')}`,
      keys: openKeyRing(join(data, 'neckline.key')),
    });
    await store.setMark('real', 'sms');
    await store.close();
    const { exit, out, err } = await refused({ NECKLINE_BENCH_PORT: String(await freePort()) });
    expect({ exit, out }).toEqual({ exit: 2, out: '' });
    expect(err).toMatch(/^database \S+; programme [^\n]+\nthis database was used by a real channel[^\n]+\n$/);
    expect(existsSync(join(data, 'demo'))).toBe(false);
  });

  it.each([
    ['a bad setting', { NECKLINE_LOG: 'loud' }, 'NECKLINE_LOG'],
    ['no bench and nothing else', { NECKLINE_BENCH_PORT: '0' }, 'NECKLINE_BENCH_PORT'],
    ['a data folder that is a file', { NECKLINE_DATA: '/dev/null' }, '/dev/null'],
  ])('ends at once with one line for %s', async (_what, settings, named) => {
    const { exit, out, err } = await refused(settings);
    expect({ exit, out }).toEqual({ exit: 2, out: '' });
    expect(err).toMatch(oneLine);
    expect(err).toContain(named);
  });

  it.each([
    ['Telegram alone', { NECKLINE_TELEGRAM_TOKEN: '123456:abcdef' }, [...incomplete, keyPlace]],
    [
      'Telegram with half a token, beside the bench',
      { NECKLINE_TELEGRAM_TOKEN: '123456abcdef', NECKLINE_BENCH_PORT: '8085' },
      [...incomplete, 'NECKLINE_BENCH_PORT: ', keyPlace, 'NECKLINE_TELEGRAM_TOKEN: '],
    ],
    [
      'an SMS gateway of a wrong name, and little else',
      {
        NECKLINE_SMS_GATEWAY: 'pigeon',
        NECKLINE_SMS_SECRET: 'short',
        NECKLINE_SMS_PREFIXES: 'Kenya',
        NECKLINE_LOG: 'loud',
      },
      [
        ...['NECKLINE_SMS_GATEWAY: ', 'NECKLINE_SMS_SECRET: ', 'NECKLINE_LOG: ', ...incomplete, keyPlace],
        ...['NECKLINE_SMS_SEND_URL: ', 'NECKLINE_SMS_NUMBER: ', 'NECKLINE_SMS_PREFIXES: '],
      ],
    ],
    [
      'PostgreSQL alone',
      { DATABASE_URL: 'postgres://db.invalid/neckline' },
      [...invented, keyPlace, 'PostgreSQL alone'],
    ],
  ])('says all that stands in the way at once, a line each: %s', async (_what, settings, lines) => {
    const { exit, out, err } = await refused(settings);
    expect({ exit, out }).toEqual({ exit: 2, out: '' });
    const said = err.trimEnd().split('\n');
    expect(said.map((line, place) => line.includes(lines[place] ?? '?'))).toEqual(lines.map(() => true));
    expect(err).not.toMatch(/123456|pigeon|Kenya|loud|short/);
    expect(existsSync(join(folder, 'data'))).toBe(false);
  });
});
