import { type ChildProcess, execFile, spawn } from 'node:child_process';
import {
  appendFileSync,
  copyFileSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { promisify } from 'node:util';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { answersOfADistrict } from '../setup/answers-fixture.ts';
import { freePort } from '../support/free-port.ts';
import { runMain } from '../support/run-main.ts';
import { type GatewayStub, gatewayStub } from './gateway-stub.ts';

const program = fileURLToPath(new URL('../../src/main.ts', import.meta.url));
const page = readFileSync(new URL('../../deploy/README.md', import.meta.url), 'utf8');
const ada = '+000555010001';

let root: string;
let gateway: GatewayStub;
let port: number;
let line: ChildProcess | null = null;
const at = (...parts: string[]): string => join(root, ...parts);
const env = (): string => at('etc', 'neckline.env');

beforeAll(async () => {
  root = mkdtempSync(join(tmpdir(), 'neckline-thread-'));
  gateway = await gatewayStub();
  port = await freePort();
});
afterAll(async () => {
  line?.kill('SIGKILL');
  await gateway.close();
  rmSync(root, { recursive: true, force: true });
});

/** A district's answers, with its places in this folder. */
const ownAnswers = (): string =>
  answersOfADistrict([
    ['data: /var/lib/neckline', `data: ${at('data')}`],
    ['/var/lib/neckline-key', at('key')],
    ['/etc/neckline/backup', at('etc', 'backup')],
    ['http://127.0.0.1:13013/cgi-bin/sendsms', gateway.sendUrl],
  ]);

const ends = async (exit: number, ...words: readonly string[]): Promise<string> => {
  const ended = await runMain(...words);
  expect([ended.exit, ended.exit === exit ? '' : ended.out + ended.err]).toEqual([exit, '']);
  return ended.out + ended.err;
};

/** Starts the line in a process of its own; resolves once it serves, with what it said. */
async function starts(...words: readonly string[]): Promise<string> {
  const command = ['--import', import.meta.resolve('tsx'), program, 'start', ...words, '--env', env()];
  const child = spawn(process.execPath, command, {
    env: { PATH: process.env.PATH },
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  line = child;
  const said = { out: '', err: '' };
  child.stdout.on('data', (part) => (said.out += part));
  child.stderr.on('data', (part) => (said.err += part));
  await expect
    .poll(() => said.out + (child.exitCode === null ? '' : said.err), { timeout: 30_000 })
    .toMatch(/Unsigned|serves sms.*\n/);
  expect(child.exitCode, said.err).toBeNull();
  return said.out;
}

async function stops(): Promise<void> {
  const ended = new Promise<number | null>((resolve) => line!.once('close', resolve));
  line!.kill('SIGTERM');
  expect(await ended).toBe(0);
  line = null;
}

const sentTo = (number: string, since = 0): string =>
  gateway.texts
    .slice(since)
    .filter(({ to }) => to === number)
    .map(({ text }) => text)
    .join('\n');

let texts = 0;
/** Ada texts; resolves with the answer once it has come. */
async function says(words: string, answer: RegExp): Promise<string> {
  const before = gateway.texts.length;
  texts += 1;
  const query = new URLSearchParams({
    from: ada,
    to: '1234',
    id: `a${texts}`,
    time: String(Math.floor(Date.now() / 1000)),
  });
  const secret = readFileSync(at('etc', 'sms-secret'), 'utf8').trim();
  const headers = { 'x-neckline-secret': secret, 'content-type': 'text/plain' };
  const address = `http://127.0.0.1:${port}/sms/in?${query}`;
  expect((await fetch(address, { method: 'POST', headers, body: words })).status).toBe(200);
  await expect.poll(() => sentTo(ada, before), { timeout: 20_000, message: words }).toMatch(answer);
  return sentTo(ada, before);
}

/* One afternoon: what one step leaves is where the next begins. */
describe('the thread of the papers, walked', () => {
  it('setup makes the files of a programme from one file, and says what comes next', async () => {
    writeFileSync(at('setup.yaml'), ownAnswers());
    const said = await ends(0, 'setup', '--to', at('etc'), '--from', at('setup.yaml'));
    expect(said).toContain(`neckline keys backup-pair ${at('etc', 'backup')}\n`);
    expect(said).not.toContain('chmod 644');
    // Another line may have the usual port here. What somebody adds to the settings, a later setup keeps.
    appendFileSync(env(), `NECKLINE_HTTP_PORT=${port}\n`);
    await ends(0, 'keys', 'backup-pair', at('etc', 'backup'));
    mkdirSync(at('safe'));
    renameSync(at('etc', 'backup.private'), at('safe', 'backup.private'));
  });

  it('a list of the people in the room starts as a trial only, and the text of the page is answered', async () => {
    const all = readFileSync(at('etc', 'roster.csv'), 'utf8').split('\n');
    writeFileSync(at('etc', 'trial.csv'), all.filter((one) => /^name|^Ada|^Dr Tano/.test(one)).join('\n'));
    await ends(0, 'roster', 'import', at('etc', 'trial.csv'), '--env', env());
    expect(await ends(1, 'ready', '--env', env())).toMatch(/as a trial only \(start --trial\):\n- Only one doctor/);
    expect(await ends(2, 'start', '--env', env())).toMatch(/doctor[\s\S]*coordinator/);
    expect(await starts('--trial')).toContain('This is a trial');
    const call = blockOf('curl -i -H "X-Neckline-Secret')
      .replace('/etc/neckline/sms-secret', at('etc', 'sms-secret'))
      .replace('8099', String(port));
    expect((await promisify(execFile)('bash', ['-c', `${call} -s`])).stdout).toMatch(/^HTTP\/1\.1 200 OK/);
    await expect
      .poll(() => sentTo(ada), { timeout: 20_000 })
      .toMatch(/TRIAL: [\s\S]*SOS calls help at any moment\. NEW/);
    await stops();
    mkdirSync(at('trial'));
    for (const name of readdirSync(at('data'))) renameSync(at('data', name), at('trial', name));
  });

  it('with everybody on the line ready says what the page says, and nothing else but that the numbers are an example’s', async () => {
    expect(await ends(0, 'roster', 'import', at('etc', 'roster.csv'), '--env', env())).toContain('7 new');
    const said = (await ends(1, 'ready', '--env', env())).match(/^- .*$/gm) ?? [];
    const onPage = /<!-- ready -->\n([\s\S]*?)\n<!-- \/ready -->/.exec(page)![1]!.split('\n');
    expect(said.filter((one) => !/number of an example/.test(one))).toEqual(onPage);
  });

  let code: string;
  it('once a clinician has signed it starts for good, and a case goes from the lump to the jar', async () => {
    const who = ['--who', 'Dr Tano, physician of the district'];
    expect(await ends(0, 'sign', '--all', ...who, '--env', env())).toMatch(/^144 signed by Dr Tano/m);
    expect(await starts()).not.toMatch(/trial|Unsigned/);
    await says('JOIN', /PRACTICE/);
    await says('23', /That is right/);
    await says(
      'NEW AK 1982 F R 22x15x14 solid hypo irregular micro TSH normal felt linear signs 0 risks 0 bleeding 0',
      /Send OK/,
    );
    for (const [words, answer] of [
      ['OK', /needle/],
      ['1', /do you have/],
      ['1357H', /is all done/],
      ['ALL', /stop you/],
    ] as const)
      await says(words, answer);
    code = /CODE (\d{4} \d{4})/.exec(await says('50', /Write in pencil/))![1]!.replace(' ', '');
    await says(code, /When the slides are fixed/);
    await says('11', /EACH slide/);
  });

  it('a backup of the running line comes back in a second place, where every chain holds', async () => {
    const copy = at('backups', 'today.backup');
    mkdirSync(at('backups'));
    expect(await ends(0, 'backup', copy, '--env', env())).toMatch(/1 cases, 0 erased; read back/);
    expect(await ends(1, 'ready', '--env', env())).not.toMatch(/backup|signed/);
    await stops();

    const second = at('second');
    for (const folder of [second, join(second, 'key')]) mkdirSync(folder, { mode: 0o700 });
    copyFileSync(at('key', 'line.key'), join(second, 'key', 'line.key'));
    const there = join(second, 'neckline.env');
    const settings = readFileSync(env(), 'utf8').replace(at('data'), join(second, 'data'));
    writeFileSync(there, settings.replace(at('key', 'line.key'), join(second, 'key', 'line.key')));
    const key = ['--key', at('safe', 'backup.private'), '--erased', '0'];
    expect(await ends(0, 'restore', copy, ...key, '--env', there)).toContain(
      `${join(second, 'data', 'neckline.db')}: as of`,
    );
    expect(await ends(0, 'audit', 'verify', '--env', there)).toContain('every chain holds');
    expect(await ends(0, 'audit', 'case', code, '--env', there)).toMatch(/Ada Lumo \(worker\)\tdid\t/);
  });
});

function blockOf(beginning: string): string {
  const [found] = page.split('\n').filter((one) => one.trim().startsWith(beginning));
  if (!found) throw new Error(`the page has no ${beginning}`);
  return found.trim();
}
