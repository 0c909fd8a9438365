import { type ChildProcess, spawn, spawnSync } from 'node:child_process';
import { readdirSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { setTimeout as sleep } from 'node:timers/promises';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { diskFolder } from '../support/disk-folder.ts';
import { freePort } from '../support/free-port.ts';
import { hasKannel, Kannel, until } from './kannel.ts';

/**
 * The gateway is the real Kannel of Debian 12 with the shipped configuration and its fake network; the line is the
 * built program as a process of its own. Durations of the programme are shortened, nothing else is.
 */
const root = fileURLToPath(new URL('../../', import.meta.url));
const main = join(root, 'dist/main.js');
const secret = 'shared-secret-of-this-test';
const phones = { w: '+000555010001', d: '+000555010002', l: '+000555010003', c: '+000555010004' } as const;
type Phone = keyof typeof phones;

let folder: string;
let kannel: Kannel;
let settings: Record<string, string>;
let line: ChildProcess | null = null;
let written = '';

function programmeWithShortTimes(): string {
  const shipped = readFileSync(join(root, 'flows/programme.yaml'), 'utf8');
  return shipped
    .replace('voiceNumber: "bench:voice"', 'voiceNumber: "+000 555 010 099"')
    .replace(/^( {2}alcohol-minimum: )\d+m/gm, '$12s')
    .replace(/^( {2}(?:watch-short|watch-long): )\d+m/gm, '$125s')
    .replace(/^daytime: .*$/m, 'daytime: { from: 0, to: 24 }');
}

async function startLine(): Promise<void> {
  const child = spawn(process.execPath, [main, 'start'], {
    cwd: folder,
    env: settings,
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  line = child;
  let out = '';
  child.stdout.on('data', (part: Buffer) => {
    out += part.toString('utf8');
  });
  child.stderr.on('data', (part: Buffer) => {
    written += part.toString('utf8');
  });
  await until(() => out.includes('serves sms'), 'the line to start');
}

async function endLine(signal: 'SIGTERM' | 'SIGKILL'): Promise<void> {
  const child = line!;
  const ended = new Promise((resolve) => child.once('exit', resolve));
  child.kill(signal);
  await ended;
  line = null;
}

/** Looked at from the start of `mark` on. */
const textsTo = (phone: Phone, mark: number): readonly string[] =>
  kannel.received.slice(mark).flatMap((one) => (one.to === phones[phone] ? [one.text] : []));

async function hears(phone: Phone, wanted: RegExp, mark: number): Promise<RegExpExecArray> {
  let found: RegExpExecArray | null = null;
  await until(
    () => {
      for (const text of textsTo(phone, mark)) found ??= wanted.exec(text);
      return found !== null;
    },
    () =>
      `${phone}: ${wanted}; got ${JSON.stringify(textsTo(phone, mark))}; all ${JSON.stringify(kannel.received.slice(-4))}; ${written.slice(-900)}`,
  );
  return found!;
}

/** One phone writes; resolves with what it then hears. */
async function says(phone: Phone, text: string, hearer: Phone, wanted: RegExp): Promise<RegExpExecArray> {
  const mark = kannel.received.length;
  kannel.send(phones[phone], text);
  return hears(hearer, wanted, mark);
}

const health = async (): Promise<Response> => fetch(`http://127.0.0.1:${kannel.ports.line}/health`);

describe.skipIf(!hasKannel)('a whole case through the real gateway', () => {
  beforeAll(async () => {
    folder = diskFolder('neckline-gateway-');
    const [admin, boxes, send, network, own] = [
      await freePort(),
      await freePort(),
      await freePort(),
      await freePort(),
      await freePort(),
    ];
    kannel = new Kannel(folder, { admin, boxes, send, network, line: own }, secret, 'account-password');
    writeFileSync(join(folder, 'programme.yaml'), programmeWithShortTimes());
    writeFileSync(
      join(folder, 'roster.csv'),
      [
        'name,roles,channel,address,site,locale',
        `Ada Lumo,worker,sms,${phones.w},oruma,en`,
        `Dr Tano,doctor,sms,${phones.d},oruma,en`,
        `Lio Marek,lab,sms,${phones.l},velin,en`,
        `Sela Rune,coordinator,sms,${phones.c},oruma,en`,
      ].join('\n'),
    );
    settings = {
      PATH: process.env.PATH ?? '',
      NECKLINE_DATA: join(folder, 'data'),
      NECKLINE_PROGRAMME: join(folder, 'programme.yaml'),
      NECKLINE_KEY_FILE: join(folder, 'line.key'),
      NECKLINE_HTTP_PORT: String(own),
      NECKLINE_SMS_GATEWAY: 'kannel',
      NECKLINE_SMS_SEND_URL: `http://127.0.0.1:${send}/cgi-bin/sendsms`,
      NECKLINE_SMS_USER: 'neckline',
      NECKLINE_SMS_PASSWORD: 'account-password',
      NECKLINE_SMS_NUMBER: '1234',
      NECKLINE_SMS_SECRET: secret,
      NECKLINE_SMS_PREFIXES: '+000555',
    };
    const imported = spawnSync(process.execPath, [main, 'roster', 'import', 'roster.csv'], {
      cwd: folder,
      env: settings,
    });
    expect(imported.stdout.toString()).toContain('4 people taken');
    await kannel.start();
    await startLine();
  }, 60_000);

  afterAll(async () => {
    if (line) await endLine('SIGKILL');
    await kannel.stop('SIGKILL');
    rmSync(folder, { recursive: true, force: true });
  });

  it('runs from the lump to the answer acted on, with the line killed, the gateway restarted and texts doubled', async () => {
    await says('w', 'JOIN', 'w', /practi/i);
    await says('w', '23', 'w', /./);
    const mark = kannel.received.length;
    kannel.send(
      phones.w,
      'NEW AK 1982 F R 22x15x14 solid hypo irregular micro TSH normal felt linear signs 0 risks 0 bleeding 0',
    );
    await hears('w', /^CHECK AK F 1982/, mark);
    await says('w', 'YES', 'w', /AK: SAMPLE R nodule/);
    await says('w', '1', 'w', /AK: you have\?/);

    // The line dies and is away; a text comes meanwhile and is not lost.
    await endLine('SIGKILL');
    const away = kannel.received.length;
    kannel.send(phones.w, '1357H');
    await sleep(1500);
    await startLine();
    await hears('w', /consent/, away);

    const [, a, b] = await says('w', '123456', 'w', /AK CODE (\d{4}) (\d{4})/);
    const code = `${a}${b}`;
    await says('w', code, 'w', /1\/4 READ ALL 4/);

    // The network delivers one text twice, each under an id of its own.
    const told = kannel.received.length;
    const at = Math.floor(Date.now() / 1000);
    for (const id of ['network-1', 'network-2']) {
      const url = `http://127.0.0.1:${kannel.ports.line}/sms/in?id=${id}&from=${encodeURIComponent(phones.w)}&to=1234&time=${at}`;
      const headers = { 'x-neckline-secret': secret, 'content-type': 'text/plain; charset="UTF-8"' };
      expect((await fetch(url, { method: 'POST', headers, body: '11' })).status).toBe(200);
    }
    await hears('w', /MATERIAL/, told);
    await sleep(500);
    expect(textsTo('w', told).filter((text) => text.includes('MATERIAL'))).toHaveLength(1);

    await says('w', '1100', 'w', new RegExp(`^${a} ${b}`));
    await says('w', '1', 'w', /in alcohol/);

    // The gateway restarts: nothing that was to be sent is lost.
    await kannel.stop();
    await kannel.start();
    const back = kannel.received.length;
    kannel.send(phones.w, '7');
    await hears('w', /come at once/, back);
    await says('w', '3', 'w', /ready to post/);
    const posted = kannel.received.length;
    await says('w', `POST ${code}`, 'w', /POSTED/);
    await hears('l', new RegExp(`FROM ORUMA CLINIC: ${a} ${b}`), posted);
    await says('l', `GOT ${code} 2`, 'l', /IN: /);
    const [, challenge] = await says('l', `${code} Thy2`, 'l', /= Thy2,.*YES (\d{4})/s);
    const filed = kannel.received.length;
    await says('l', `YES ${challenge} 1982`, 'l', /FILED/);
    await hears('w', /do NOT reassure/, filed);
    const [, tag] = await hears('d', /Q(\d\d) RESULT AK F 1982/, filed);
    kannel.send(phones.w, '1');
    await sleep(1000);
    const answered = kannel.received.length;
    await says('d', `${tag} 4`, 'd', /noted/);
    await hears('w', /1 told/, answered);
    await says('w', '1', 'w', /CLOSED/);
    await says('w', `CASE ${code}`, 'w', /NOW: closed/);
  }, 180_000);

  it('an SOS from a number that nobody knows gets first aid, a name with letters gets no answer', async () => {
    const stranger = '+000555019999';
    kannel.send(stranger, 'sos she bleeds');
    await until(() => kannel.received.some((one) => one.to === stranger && one.text.includes('press')), 'first aid');
    const url = `http://127.0.0.1:${kannel.ports.line}/sms/in?id=shop-1&from=BIGSHOP&to=1234&time=0`;
    const headers = { authorization: `Basic ${Buffer.from(`x:${secret}`).toString('base64')}` };
    expect((await fetch(url, { method: 'POST', headers, body: 'WIN A PRIZE' })).status).toBe(200);
    await sleep(500);
    expect(kannel.received.filter((one) => one.to === 'BIGSHOP')).toEqual([]);
  });

  it('a text that the gateway forgot while the line was away is found in its log, and its sender asked again', async () => {
    await endLine('SIGKILL');
    const log = join(folder, 'run/bearerbox-access.log');
    const lines = (): number => readFileSync(log, 'utf8').split(' Receive SMS ').length;
    const before = lines();
    kannel.send(phones.w, 'LIST');
    await until(() => lines() > before, 'the text in the log');
    await sleep(500);
    // What smsbox retries it keeps in memory only.
    await kannel.stop('SIGKILL');
    await kannel.start();
    const compare = (...args: string[]) => {
      const { status, stdout, stderr } = spawnSync(process.execPath, [main, 'compare', log, ...args], {
        cwd: folder,
        env: settings,
        timeout: 60_000,
      });
      return { status, out: stdout.toString(), err: stderr.toString() };
    };
    expect(compare()).toMatchObject({ status: 1, out: expect.stringMatching(/ 1 missing\n.*\ton the line\n$/) });
    expect(compare('--ask')).toMatchObject({ status: 2, err: expect.stringMatching(/does not run/) });
    const mark = kannel.received.length;
    await startLine();
    await sleep(500);
    expect(compare('--ask', '--wait', '2s').out).toMatch(/1 people asked to send 1 texts again\n$/);
    await hears('w', /^What you sent \(\d\d:\d\d\) never reached me/, mark);
    await hears('c', /^1 texts of people on the line never reached me/, mark);
    expect(compare('--ask', '--wait', '1s').out).toMatch(/0 people asked .* of 1 they were asked before\n$/);
    await says('w', 'LIST', 'w', /./);
    // Its format is the shipped one: all else that the phones sent was taken.
    expect(compare().out).toMatch(/: [1-9]\d taken, 0 taken under another id, 1 missing/);
  }, 60_000);

  it('reports came back for what was sent, and the line is well', async () => {
    await until(async () => (await health()).status === 200, 'health');
    expect(written).not.toContain('sms-report-unknown');
  });

  it('no log of gateway or line holds a text or a secret; the roster is in no file in the clear', () => {
    const files = (place: string): string[] =>
      readdirSync(place).flatMap((name) => {
        const path = join(place, name);
        return statSync(path).isDirectory() ? files(path) : [path];
      });
    const logs = files(join(folder, 'run')).filter((path) => path.endsWith('.log'));
    const held = [...logs, ...files(join(folder, 'data'))].map((path) => [path, readFileSync(path, 'latin1')] as const);
    held.push(['log of the line', written]);
    for (const [path, text] of held) {
      for (const word of ['AK 1982', 'SAMPLE R nodule', 'Ada Lumo', secret, 'account-password', 'papillary']) {
        expect(text.includes(word), `${path} holds ${word}`).toBe(false);
      }
    }
    expect(logs.length).toBeGreaterThan(1);
    expect(written).not.toContain('000555');
  });

  it('ends in order within five seconds', async () => {
    const asked = Date.now();
    await endLine('SIGTERM');
    expect(Date.now() - asked).toBeLessThan(5000);
  });
});
