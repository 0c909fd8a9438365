import { spawnSync } from 'node:child_process';
import { readdirSync, readFileSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { setTimeout as sleep } from 'node:timers/promises';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { GatewayLine, main, phones, secret } from './gateway-line.ts';
import { hasKannel, type Kannel, until } from './kannel.ts';

let line: GatewayLine;
let kannel: Kannel;
const says: GatewayLine['says'] = (...of) => line.says(...of);
const hears: GatewayLine['hears'] = (...of) => line.hears(...of);

describe.skipIf(!hasKannel)('a whole case through the real gateway', () => {
  beforeAll(async () => {
    line = await GatewayLine.open({ 'alcohol-minimum': '1m', 'watch-short': '2m', 'watch-long': '2m' });
    kannel = line.kannel;
  }, 60_000);

  afterAll(() => line.close());

  it('runs from the lump to the answer acted on, with the line killed, the gateway restarted and texts doubled', async () => {
    await says('w', 'JOIN', 'w', /practi/i);
    await says('w', '23', 'w', /./);
    const mark = line.mark;
    kannel.send(
      phones.w,
      'NEW AK 1982 F R 22x15x14 solid hypo irregular micro TSH normal felt linear signs 0 risks 0 bleeding 0',
    );
    await hears('w', /^CHECK AK F 1982/, mark);
    await says('w', 'OK', 'w', /AK: RIGHT lump, \d+ mm: needle ADVISED/);
    await says('w', '1', 'w', /AK: what do you have\?/);

    // The line dies and is away; a text comes meanwhile and is not lost.
    await line.end('SIGKILL');
    const away = line.mark;
    kannel.send(phones.w, '1357H');
    await sleep(1500);
    await line.start();
    await hears('w', /is all done\?/, away);
    await says('w', 'ALL', 'w', /does one of these stop you\?/);

    const [, a, b] = await says('w', '50', 'w', /AK CODE (\d{4}) (\d{4})/);
    const code = `${a}${b}`;
    await says('w', code, 'w', /step 8 of 8/);

    // The network delivers one text twice, each under an id of its own.
    const told = line.mark;
    const at = Math.floor(Date.now() / 1000);
    for (const id of ['network-1', 'network-2']) {
      const url = `http://127.0.0.1:${kannel.ports.line}/sms/in?id=${id}&from=${encodeURIComponent(phones.w)}&to=1234&time=${at}`;
      const headers = { 'x-neckline-secret': secret, 'content-type': 'text/plain; charset="UTF-8"' };
      expect((await fetch(url, { method: 'POST', headers, body: '11' })).status).toBe(200);
    }
    await hears('w', /AK Good\./, told);
    await sleep(500);
    expect(line.textsTo('w', told).filter((text) => text.includes('AK Good.'))).toHaveLength(1);

    await says('w', '6600', 'w', /at what time did the last slide/);
    await says('w', '9', 'w', new RegExp(`^${a} ${b}`));
    await says('w', '1', 'w', /in your book/);
    // The shortest time that a clock can tell.
    await says('w', '7', 'w', /in the alcohol/, 90_000);

    // The gateway restarts: nothing that was to be sent is lost.
    await kannel.stop();
    await kannel.start();
    const back = line.mark;
    kannel.send(phones.w, '1');
    await hears('w', /3 all well/, back, 150_000);
    await says('w', '3', 'w', /5 yes 6 not yet/);
    // The fake network of the gateway ends a text at its first line break.
    await says('w', '5', 'w', /put jar and towel in a bag/);
    const posted = line.mark;
    await says('w', `POST ${code}`, 'w', /POSTED/);
    await hears('l', new RegExp(`${a} ${b} FROM ORUMA CLINIC`), posted);
    await says('l', `GOT ${code} 2`, 'l', /received: 2 slides/);
    const [, challenge] = await says('l', `${code} Thy2`, 'l', /YES (\d{4})/);
    const filed = line.mark;
    await says('l', `YES ${challenge} 1982`, 'l', /FILED/);
    await hears('w', /Do NOT reassure/, filed);
    const [, tag] = await hears('d', /Q(\d\d) RESULT AK F 1982/, filed);
    kannel.send(phones.w, '1');
    await sleep(1000);
    const answered = line.mark;
    await says('d', `${tag} 4`, 'd', /noted/);
    await hears('w', /6 told/, answered);
    await says('w', '6', 'w', /CLOSED/);
    await says('w', `CASE ${code}`, 'w', /NOW: closed/);
  }, 300_000);

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
    await line.end('SIGKILL');
    const log = join(line.folder, 'run/bearerbox-access.log');
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
        cwd: line.folder,
        env: line.settings,
        timeout: 60_000,
      });
      return { status, out: stdout.toString(), err: stderr.toString() };
    };
    expect(compare()).toMatchObject({ status: 1, out: expect.stringMatching(/ 1 missing\n.*\ton the line\n$/) });
    expect(compare('--ask')).toMatchObject({ status: 2, err: expect.stringMatching(/does not run/) });
    const mark = line.mark;
    await line.start();
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
    await until(async () => (await line.health()).status === 200, 'health');
    expect(line.written).not.toContain('sms-report-unknown');
  });

  it('no log of gateway or line holds a text or a secret; the roster is in no file in the clear', () => {
    const files = (place: string): string[] =>
      readdirSync(place).flatMap((name) => {
        const path = join(place, name);
        return statSync(path).isDirectory() ? files(path) : [path];
      });
    const logs = files(join(line.folder, 'run')).filter((path) => path.endsWith('.log'));
    const held = [...logs, ...files(join(line.folder, 'data'))].map(
      (path) => [path, readFileSync(path, 'latin1')] as const,
    );
    held.push(['log of the line', line.written]);
    for (const [path, text] of held) {
      for (const word of ['AK 1982', 'needle ADVISED', 'Ada Lumo', secret, 'account-password', 'papillary']) {
        expect(text.includes(word), `${path} holds ${word}`).toBe(false);
      }
    }
    expect(logs.length).toBeGreaterThan(1);
    expect(line.written).not.toContain('000555');
  });

  it('ends in order within five seconds', async () => {
    const asked = Date.now();
    await line.end('SIGTERM');
    expect(Date.now() - asked).toBeLessThan(5000);
  });
});
