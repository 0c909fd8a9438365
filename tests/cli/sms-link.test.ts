import { createServer, type Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { withKeyword } from '../../src/cli/keyword-setting.ts';
import { type SmsLink, smsLink } from '../../src/cli/sms-link.ts';
import { readSettings, type Settings } from '../../src/config.ts';
import { LinkedLine } from '../support/linked-line.ts';
import { person } from '../support/links.ts';
import { shipped } from '../support/shipped.ts';

const worker = person('w', 'worker', ['sms']);
const from = worker.addresses[0]!.address;

let line: LinkedLine;
let server: Server;
let base: string;

const first = {
  NECKLINE_SMS_GATEWAY: 'kannel',
  NECKLINE_SMS_SEND_URL: 'http://127.0.0.1:1/none',
  NECKLINE_SMS_NUMBER: '1234',
  NECKLINE_SMS_SECRET: 'a-secret-of-the-gateway',
  NECKLINE_SMS_PREFIXES: '+000555',
  NECKLINE_SMS_COUNTRY: '+000555/8',
};
const second = {
  NECKLINE_SMS2_GATEWAY: 'kannel',
  NECKLINE_SMS2_SEND_URL: 'http://127.0.0.1:1/none',
  NECKLINE_SMS2_NUMBER: '5678',
  NECKLINE_SMS2_SECRET: 'a-secret-of-the-second',
};
const settings = { ...first, ...second, NECKLINE_SMS_KEYWORD: 'NECK' };

function linkOf(of: Settings): SmsLink {
  return smsLink(of, {
    clock: { now: () => line.now },
    steady: () => line.now,
    log: { write: () => undefined },
    offsetAtMostMs: 60_000,
    zone: 'UTC',
  });
}

beforeEach(async () => {
  line = await LinkedLine.open([worker, person('d', 'doctor', ['sms']), person('c', 'coordinator', ['sms'])]);
  const read = readSettings(settings);
  if (!read.ok) throw new Error('settings');
  const door = linkOf(read.settings).door(line.line, () => undefined);
  server = createServer((request, response) => {
    void door(request, response).then((taken) => taken || response.writeHead(404).end());
  });
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  base = `http://127.0.0.1:${(server.address() as AddressInfo).port}`;
});
afterEach(async () => {
  server.closeAllConnections();
  server.close();
  await line.close();
});

/** The gateway brings a text that left the phone so many seconds ago. */
async function brings(id: string, text: string, ago = 0, udh = '', name: 'sms' | 'sms2' = 'sms'): Promise<void> {
  const time = String(Math.floor(line.now / 1000) - ago);
  const query = new URLSearchParams({ id, from, to: '1234', time, udh });
  const headers = { 'x-neckline-secret': `a-secret-of-the-${name === 'sms' ? 'gateway' : 'second'}` };
  const response = await fetch(`${base}/${name}/in?${query}`, { method: 'POST', headers, body: text });
  expect(response.status).toBe(200);
  await line.line.settle();
}

describe('the gateway at the door of a whole line', () => {
  it('that brings a text again under another id is answered once, and the line knows both ids afterwards', async () => {
    await brings('a', 'NEW', 30);
    const heard = line.heardBy('w');
    await brings('b', 'NEW', 30);
    expect(line.heardBy('w')).toBe(heard);
    // Whoever compares the gateway's log with the line asks by the second id.
    expect(await line.line.hearText(worker.addresses[0]!, 'sms:b', 'anything', null)).toBe('duplicate');
    expect(await line.line.hearText(worker.addresses[0]!, 'sms:c', 'LIST', null)).toBe('done');
  });

  it('that begins its ids anew gives a used one to another text, which is heard; the same words under it are not', async () => {
    await brings('a', 'NEW', 30);
    await brings('a', 'AK 1982 F', 10);
    expect(line.heardBy('w')).toMatch(/AK: breathing\. 1/);
    const heard = line.heardBy('w');
    await brings('a', 'AK 1982 F');
    await brings('a', 'NEW');
    expect(line.heardBy('w')).toBe(heard);
  });

  it('that joins no parts has them joined, whatever their order and however often each comes', async () => {
    await brings('a', 'NEW');
    await brings('p2', ' 1982 F', 0, '0500032a0202');
    await brings('p2', ' 1982 F', 0, '0500032a0202');
    await brings('p1', 'AK', 0, '0500032a0201');
    expect(line.heardBy('w')).toMatch(/AK: breathing\. 1/);
    const heard = line.heardBy('w');
    await brings('p1-again', 'AK', 0, '0500032a0201');
    await line.later(10);
    expect(line.heardBy('w')).toBe(heard);
  });

  it('with a call that cannot be read keeps it, and the coordinator hears of the SOS in it with its number', async () => {
    const headers = { 'x-neckline-secret': 'a-secret-of-the-gateway', 'content-type': 'application/json' };
    const body = JSON.stringify({ sender: from, message: 'she bleeds SOS' });
    for (let tries = 0; tries < 3; tries += 1) {
      expect((await fetch(`${base}/sms/in`, { method: 'POST', headers, body })).status).toBe(503);
      await line.line.settle();
    }
    expect(
      line.sms.to('c').filter((one) => one.startsWith(`SOS in a text that I cannot read, from ${from}.`)),
    ).toHaveLength(1);
    expect(
      line.sms.to('c').filter((one) => one.startsWith('SMS: texts came that I cannot read, 1 in all')),
    ).toHaveLength(1);
    expect(line.line.unreadable.facts()).toMatchObject({ count: 3, lastAt: line.now });
  });

  it('that brings a national number knows whose it is, with a 0 and without', async () => {
    for (const [id, written] of [`0${from.slice(-8)}`, from.slice(-8)].entries()) {
      line.now += 10_000;
      const before = line.heardBy('w').length;
      const query = new URLSearchParams({ id: String(id), from: written, to: '1234', time: String(line.now / 1000) });
      const headers = { 'x-neckline-secret': 'a-secret-of-the-gateway' };
      await fetch(`${base}/sms/in?${query}`, { method: 'POST', headers, body: 'LIST' });
      await line.line.settle();
      expect(line.heardBy('w').length).toBeGreaterThan(before);
    }
  });
});

describe('a word in front of every text', () => {
  it('is no part of an answer, with a space, a colon or nothing behind it, and nobody has to send it', async () => {
    await brings('a', 'neck new');
    await brings('b', 'NECK: AK 1982 F');
    expect(line.heardBy('w')).toMatch(/AK: breathing\. 1/);
    await brings('c', 'NECK60');
    expect(line.heardBy('w')).toMatch(/AK: ask the patient: 1 is the voice/);
    await brings('d', '70');
    expect(line.heardBy('w')).toMatch(/80 none/);
  });

  it.each(['NECKSOS', 'neck sos', 'Neck:S.O.S', 'SOS'])('hides no SOS: %s', async (text) => {
    await brings('a', text);
    expect(line.heardBy('d')).toMatch(/SOS/);
    expect(line.heardBy('w')).toMatch(/FAINT|faint/);
  });

  it.each([
    ['neck is tense', /tense/],
    ['neck gets bigger', /bigger/],
  ])('that is part of a cry of danger is heard with it: %s', async (text, words) => {
    await line.coded(worker);
    await brings('a', text);
    await line.later(3);
    expect(line.heardBy('d')).toMatch(words);
  });

  it('stands in front of a long text once, whatever the order of its parts', async () => {
    await brings('p2', ' 1982 F', 0, '0500032a0202');
    await brings('p1', 'NECK NEW AK', 0, '0500032a0201');
    expect(line.heardBy('w')).toMatch(/AK: breathing\. 1/);
  });
});

describe('a word in front of every text, in the settings', () => {
  const withWord = (word: string) => {
    const read = readSettings({ ...settings, NECKLINE_SMS_KEYWORD: word });
    return read.ok ? withKeyword(shipped, read.settings).programme.keyword : read.faults.join();
  };

  it('is taken where it begins no word of the line, and refused where it does', () => {
    expect(withWord('NECK')).toBe('NECK');
    for (const word of ['new', 'NE', 'received', 'LIST'])
      expect(() => withWord(word)).toThrow('none of the words of the line');
    for (const word of ['N', '12', 'two words', 'n.*'])
      expect(withWord(word)).toContain('NECKLINE_SMS_KEYWORD: expected one word');
  });
});

describe('two gateways at the door of one line', () => {
  it('each bring texts by a path and a secret of their own, under ids that may be the same', async () => {
    await brings('1', 'NEW', 30);
    await brings('1', 'AK 1982 F', 0, '', 'sms2');
    expect(line.heardBy('w')).toMatch(/AK: breathing\. 1/);
    const headers = { 'x-neckline-secret': 'a-secret-of-the-gateway' };
    const response = await fetch(`${base}/sms2/in?from=${encodeURIComponent(from)}`, {
      method: 'POST',
      headers,
      body: 'x',
    });
    expect(response.status).toBe(403);
  });

  it.each([
    ['the same secret', { NECKLINE_SMS2_SECRET: 'a-secret-of-the-gateway' }, 'NECKLINE_SMS2_SECRET: expected another'],
    ['a foreign prefix', { NECKLINE_SMS2_PREFIXES: '+000666' }, 'NECKLINE_SMS2_PREFIXES: expected prefixes that'],
    [
      'no account',
      { NECKLINE_SMS2_SEND_URL: '', NECKLINE_SMS2_NUMBER: '' },
      'NECKLINE_SMS2_SEND_URL: SMS needs it\nNECKLINE_SMS2_NUMBER: SMS needs it',
    ],
    ['a word that is SOS', { NECKLINE_SMS_KEYWORD: 'SOS' }, 'NECKLINE_SMS_KEYWORD: expected another word'],
  ])('with %s are refused', (_what, other, fault) => {
    const read = readSettings({ ...settings, ...other });
    if (!read.ok) throw new Error('settings');
    expect(() => linkOf(read.settings)).toThrow(fault);
  });

  it('tell every fault of both at once', () => {
    const read = readSettings({ ...settings, NECKLINE_SMS_PREFIXES: 'x', NECKLINE_SMS2_GATEWAY: 'generic' });
    if (!read.ok) throw new Error('settings');
    expect(() => linkOf(read.settings)).toThrow(
      /NECKLINE_SMS_PREFIXES: .*\n.*NECKLINE_SMS2_MAPPING must name its file/,
    );
  });
});
