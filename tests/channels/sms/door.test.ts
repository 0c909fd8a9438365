import { createServer, type Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { roundNumber } from '../../../src/channels/sms/addresses.ts';
import { type SmsHearing, smsDoor } from '../../../src/channels/sms/door.ts';
import { kannel } from '../../../src/channels/sms/kannel.ts';
import { LinkClock } from '../../../src/channels/sms/link-clock.ts';
import { referenceOf } from '../../../src/channels/sms/secrets.ts';
import type { Handled } from '../../../src/line/handle.ts';

const start = Date.UTC(2030, 2, 4, 8);
let now = start;
let server: Server;
let base: string;
let handled: Handled = 'done';
let linkClock: LinkClock;
const heard: Parameters<SmsHearing['hear']>[0][] = [];
const reports: [string, string][] = [];

beforeEach(async () => {
  heard.length = 0;
  reports.length = 0;
  handled = 'done';
  now = start;
  linkClock = new LinkClock(60_000);
  const door = smsDoor({
    mapping: kannel,
    secrets: ['new-secret', 'old-secret'],
    prefixes: ['+000555'],
    allowGet: false,
    linkClock,
    clock: { now: () => now },
    log: { write: () => undefined },
    line: {
      hear: async (text) => {
        heard.push(text);
        return handled;
      },
      report: async (id, status) => {
        reports.push([id, status]);
      },
    },
  });
  server = createServer((request, response) => {
    void door(request, response).then((taken) => taken || response.writeHead(404).end());
  });
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  base = `http://127.0.0.1:${(server.address() as AddressInfo).port}`;
});
afterEach(() => {
  server.closeAllConnections();
  server.close();
});

async function call(
  query: Record<string, string>,
  body: string | null = 'NEW',
  headers: Record<string, string> = { 'x-neckline-secret': 'new-secret' },
  path = '/sms/in',
): Promise<number> {
  const method = body === null ? 'GET' : 'POST';
  const response = await fetch(`${base}${path}?${new URLSearchParams(query)}`, { method, headers, body });
  expect(await response.text()).toBe('');
  return response.status;
}

const text = { id: 'g1', from: '+000555010001', to: '1234', time: String(start / 1000) };

describe('a text from the gateway', () => {
  it('is answered 200 once it is stored, 503 when it could not be, so that it comes again', async () => {
    expect(await call(text, 'hello\nthere')).toBe(200);
    expect(heard[0]).toMatchObject({ from: '+000555010001', id: 'sms:g1', text: 'hello\nthere', networkAt: start });
    handled = 'failed';
    expect(await call(text)).toBe(503);
    handled = 'parked';
    expect(await call(text)).toBe(200);
  });

  it('delivered again by the network under another id carries the same further key; another text does not', async () => {
    await call(text, 'one');
    await call({ ...text, id: 'g2' }, 'one');
    await call({ ...text, id: 'g3' }, 'two');
    expect(heard[1]!.moreKeys).toEqual(heard[0]!.moreKeys);
    expect(heard[2]!.moreKeys).not.toEqual(heard[0]!.moreKeys);
  });

  it.each([
    ['the older of two secrets', { 'x-neckline-secret': 'old-secret' }, 200],
    ['basic authentication', { authorization: `Basic ${Buffer.from('any:new-secret').toString('base64')}` }, 200],
    ['a wrong secret', { 'x-neckline-secret': 'new-secreT' }, 403],
    ['none', {}, 403],
  ])('with %s: %s %i', async (_what, headers, status) => {
    expect(await call(text, 'NEW', headers as Record<string, string>)).toBe(status);
    expect(heard).toHaveLength(status === 200 ? 1 : 0);
  });

  it('by GET is not taken, unless the settings allow it', async () => {
    expect(await call({ ...text, text: 'NEW' }, null)).toBe(405);
    expect(heard).toEqual([]);
  });

  it('that is no text of a phone is not taken, and does not come again', async () => {
    expect(await call({ ...text, from: '' })).toBe(200);
    expect(await call({ ...text, id: 'x'.repeat(500) })).toBe(200);
    expect(await call(text, 'x'.repeat(200_000))).toBe(413);
    expect(heard).toEqual([]);
  });

  // 3GPP TS 23.040, 9.2.3.24.1 and 9.2.3.24.8: octets of the two elements; the rule for impossible numbers from memory.
  it.each([
    ['first of two', '%05%00%03%2A%02%01', { reference: '42', number: 1, total: 2 }],
    ['third of three, written plainly', '0500032a0303', { reference: '42', number: 3, total: 3 }],
    ['with a reference of 16 bits', '060804012a0201', { reference: '1.42', number: 1, total: 2 }],
    ['behind another element', '0a' + '05040b8423f0' + '0003070202', { reference: '7', number: 2, total: 2 }],
    ['alone', '0500032a0101', null],
    ['number zero', '0500032a0200', null],
    ['beyond the last', '0500032a0203', null],
    ['of none', '0500032a0000', null],
    ['cut off', '0500032a02', null],
    ['without a header', '', null],
  ])('that is a part of a long one is known: %s', async (_which, udh, part) => {
    await call({ ...text, udh });
    expect(heard.map((one) => one.part)).toEqual([part]);
  });

  it('in parts of the same words at the same second is two parts', async () => {
    await call({ ...text, id: 'p1', udh: '0500032a0201' });
    await call({ ...text, id: 'p2', udh: '0500032a0202' });
    expect(new Set(heard.flatMap((one) => one.moreKeys)).size).toBe(2);
  });

  it('has no time any more once the clock of the network is known to be off', async () => {
    for (let index = 0; index < 6; index += 1) {
      now = start + index * 60_000;
      await call({ ...text, id: `t${index}`, time: String((now - 600_000) / 1000) });
    }
    expect(heard[0]!.networkAt).toBe(start - 600_000);
    expect(heard[5]!.networkAt).toBeNull();
    expect(linkClock.offsetMs()).toBe(600_000);
  });
});

describe('a delivery report', () => {
  it.each([
    ['1', 'delivered'],
    ['2', 'failed'],
    ['16', 'failed'],
    ['8', 'sent'],
    ['99', null],
  ])('%s means %s', async (status, wanted) => {
    const ref = referenceOf('sms:g1:m1', ['new-secret']);
    expect(await call({ ref, status }, null, { 'x-neckline-secret': 'new-secret' }, '/sms/report')).toBe(200);
    expect(reports).toEqual(wanted === null ? [] : [['sms:g1:m1', wanted]]);
  });

  it('for a reference that we did not make changes nothing', async () => {
    const ref = `${referenceOf('sms:g1:m1', ['new-secret']).slice(0, -1)}!`;
    for (const forged of [ref, 'x', '', referenceOf('sms:g1:m1', ['guessed'])]) {
      await call({ ref: forged, status: '1' }, null, { 'x-neckline-secret': 'new-secret' }, '/sms/report');
    }
    expect(reports).toEqual([]);
  });
});

describe('numbers as networks write them', () => {
  it.each([
    ['+000555010001', '+000555010001'],
    ['000555010001', '+000555010001'],
    ['+000 555-010001', '+000555010001'],
    ['BIGSHOP', 'BIGSHOP'],
    ['1234', '1234'],
  ])('%s is %s', (from, round) => {
    expect(roundNumber(from, ['+000555'])).toBe(round);
  });

  it('of the own country, with a 0, are completed where one prefix is allowed only', () => {
    expect(roundNumber('0712345678', ['+999'])).toBe('+999712345678');
    expect(roundNumber('0712345678', ['+999', '+998'])).toBe('0712345678');
    expect(roundNumber('00999712345678', ['+999'])).toBe('+999712345678');
  });
});
