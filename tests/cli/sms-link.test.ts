import { createServer, type Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { smsLink } from '../../src/cli/sms-link.ts';
import { readSettings } from '../../src/config.ts';
import { LinkedLine } from '../support/linked-line.ts';
import { person } from '../support/links.ts';

const worker = person('w', 'worker', ['sms']);
const from = worker.addresses[0]!.address;

let line: LinkedLine;
let server: Server;
let base: string;

beforeEach(async () => {
  line = await LinkedLine.open([worker, person('d', 'doctor', ['sms']), person('c', 'coordinator', ['sms'])]);
  const read = readSettings({
    NECKLINE_SMS_GATEWAY: 'kannel',
    NECKLINE_SMS_SEND_URL: 'http://127.0.0.1:1/none',
    NECKLINE_SMS_NUMBER: '1234',
    NECKLINE_SMS_SECRET: 'a-secret-of-the-gateway',
    NECKLINE_SMS_PREFIXES: '+000555',
    NECKLINE_SMS_COUNTRY: '+000555/8',
  });
  if (!read.ok) throw new Error('settings');
  const link = smsLink(read.settings, {
    clock: { now: () => line.now },
    steady: () => line.now,
    log: { write: () => undefined },
    offsetAtMostMs: 60_000,
  });
  const door = link.door(line.line, () => undefined);
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
async function brings(id: string, text: string, ago = 0, udh = ''): Promise<void> {
  const time = String(Math.floor(line.now / 1000) - ago);
  const query = new URLSearchParams({ id, from, to: '1234', time, udh });
  const headers = { 'x-neckline-secret': 'a-secret-of-the-gateway' };
  const response = await fetch(`${base}/sms/in?${query}`, { method: 'POST', headers, body: text });
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
