import { readFileSync } from 'node:fs';
import { createServer, request, type Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { lacksCountry, readCountry, roundNumber } from '../../../src/channels/sms/addresses.ts';
import { type SmsHearing, smsDoor } from '../../../src/channels/sms/door.ts';
import { kannel } from '../../../src/channels/sms/kannel.ts';
import { LinkClock } from '../../../src/channels/sms/link-clock.ts';
import type { GatewayMapping } from '../../../src/channels/sms/mapping.ts';
import { readMapping } from '../../../src/channels/sms/mapping-file.ts';
import { referenceOf } from '../../../src/channels/sms/secrets.ts';
import type { UnreadableCall } from '../../../src/channels/sms/unreadable.ts';
import { WrongSecrets } from '../../../src/channels/wrong-secrets.ts';
import type { Handled } from '../../../src/line/handle.ts';
import { jsonLog } from '../../../src/observe/log.ts';

const start = Date.UTC(2030, 2, 4, 8);
let now = start;
let server: Server;
let base: string;
let handled: Handled = 'done';
let linkClock: LinkClock;
const heard: Parameters<SmsHearing['hear']>[0][] = [];
const reports: [string, string][] = [];
const unread: UnreadableCall[] = [];
const unknownForms: string[] = [];
let told = true;
let secretInQuery = false;
let logged: string[] = [];
const log = jsonLog((line) => logged.push(line), 'debug');

async function serve(mapping: GatewayMapping): Promise<void> {
  server?.closeAllConnections();
  server?.close();
  linkClock = new LinkClock(60_000);
  const door = smsDoor({
    name: 'sms',
    mapping,
    secrets: ['new-secret', 'old-secret'],
    prefixes: ['+000555'],
    country: { code: '+000555', digits: 6, trunk: '0' },
    own: '+000555000000',
    allowGet: false,
    secretInQuery,
    wrong: new WrongSecrets({ now: () => now, log, channel: 'sms' }),
    linkClock,
    clock: { now: () => now },
    log,
    line: {
      hear: async (text) => {
        heard.push(text);
        return handled;
      },
      report: async (id, status) => {
        reports.push([id, status]);
      },
      unreadable: async (seen) => {
        unread.push(seen);
        return told;
      },
      unknownForm: async (from) => unknownForms.push(from),
    },
  });
  server = createServer((request, response) => {
    void door(request, response).then((taken) => taken || response.writeHead(404).end());
  });
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  base = `http://127.0.0.1:${(server.address() as AddressInfo).port}`;
}

beforeEach(async () => {
  heard.length = 0;
  reports.length = 0;
  unread.length = 0;
  unknownForms.length = 0;
  told = true;
  secretInQuery = false;
  logged = [];
  handled = 'done';
  now = start;
  await serve(kannel);
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
    expect(heard[1]!.moreKeys.at(-1)).toBe(heard[0]!.moreKeys.at(-1));
    expect(heard[2]!.moreKeys.at(-1)).not.toBe(heard[0]!.moreKeys.at(-1));
  });

  it('under an id that was used is known by its words: the same words are a repetition, others are not', async () => {
    await call(text, 'one');
    await call({ ...text, time: String(start / 1000 + 60) }, 'one');
    await call({ ...text, time: String(start / 1000 + 120) }, 'two');
    expect(heard.map((one) => one.id)).toEqual(['sms:g1', 'sms:g1', 'sms:g1']);
    expect(heard[1]!.words).toBe(heard[0]!.words);
    expect(heard[2]!.words).not.toBe(heard[0]!.words);
    expect(heard.every((one) => one.moreKeys.includes(one.words))).toBe(true);
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

  it('with its secret in the address, where logs keep it, is refused, unless the settings allow it', async () => {
    expect(await call({ ...text, secret: 'new-secret' }, 'NEW', {})).toBe(403);
    expect(await call({ ...text, secret: 'new-secret' }, 'NEW', { 'x-neckline-secret': 'guessed' })).toBe(403);
    expect(heard).toEqual([]);
    secretInQuery = true;
    await serve(kannel);
    expect(await call({ ...text, secret: 'guessed' }, 'NEW', {})).toBe(403);
    expect(await call({ ...text, secret: 'new-secret' }, 'NEW', { 'x-neckline-secret': 'guessed' })).toBe(403);
    expect(await call({ ...text, secret: 'new-secret' }, 'NEW', {})).toBe(200);
    expect(heard).toHaveLength(1);
  });

  it('with a wrong secret before its body is refused before the body came', async () => {
    const status = await new Promise((resolve, reject) => {
      const headers = { 'x-neckline-secret': 'guessed', 'content-length': '100000' };
      const sent = request(`${base}/sms/in`, { method: 'POST', headers }, (response) => {
        resolve(response.statusCode);
        sent.destroy();
      });
      sent.once('error', reject);
      sent.flushHeaders();
    });
    expect(status).toBe(403);
  });

  it('by GET is not taken, unless the settings allow it', async () => {
    expect(await call({ ...text, text: 'NEW' }, null)).toBe(405);
    expect(heard).toEqual([]);
  });

  it('with an id that is none is heard all the same, and known when it comes again', async () => {
    await call({ ...text, id: 'x'.repeat(500) });
    await call({ ...text, id: 'x'.repeat(500) });
    await call({ ...text, id: 'x'.repeat(501) });
    expect(heard.map((one) => one.id)[0]).toMatch(/^sms:[\w-]{32}$/);
    expect(new Set(heard.map((one) => one.id)).size).toBe(2);
  });

  it('that is longer than any is heard in its beginning', async () => {
    expect(await call(text, 'SOS '.repeat(9_000))).toBe(200);
    expect(heard[0]!.text).toHaveLength(10_000);
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

  // As the gateway was seen to write it: what needs no escape in an address stands as it is, a blank as +.
  it.each([
    ['%05%00%03*%02%01', { reference: '42', number: 1, total: 2 }],
    ['%05%00%03+%03%02', { reference: '32', number: 2, total: 3 }],
    ['%05%00%03%0C%02%02', { reference: '12', number: 2, total: 2 }],
    ['%05%00%03%C8%02%02', { reference: '200', number: 2, total: 2 }],
    ['%06%08%04%F1%C8%02%02', { reference: '241.200', number: 2, total: 2 }],
  ])('whose header stands in the address as octets (%s) is a part too', async (udh, part) => {
    const query = `${new URLSearchParams(text)}&udh=${udh}`;
    const headers = { 'x-neckline-secret': 'new-secret' };
    await fetch(`${base}/sms/in?${query}`, { method: 'POST', headers, body: 'words' });
    expect(heard.map((one) => one.part)).toEqual([part]);
  });

  it('in parts of the same words at the same second is two parts', async () => {
    await call({ ...text, id: 'p1', udh: '0500032a0201' });
    await call({ ...text, id: 'p2', udh: '0500032a0202' });
    expect(new Set(heard.flatMap((one) => one.moreKeys)).size).toBe(4);
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

describe('wrong secrets', () => {
  const guess = (number: number) => call(text, 'NEW', { 'x-neckline-secret': `guess ${number}` });
  const refusals = () => logged.map((one) => JSON.parse(one)).filter((one) => one.log === 'sms-call-refused');

  it('are answered 429 after ten in a minute, and the right one passes all the same, shown in any way', async () => {
    for (let number = 1; number <= 30; number += 1) expect(await guess(number)).toBe(number <= 10 ? 403 : 429);
    expect(await call({ ...text, secret: 'guessed' }, 'NEW', {})).toBe(429);
    // One proxy may stand before the gateway and the stranger: both come from the same address.
    expect(await call(text)).toBe(200);
    expect(await guess(31)).toBe(429);
    expect(await call({ ...text, id: 'g2' })).toBe(200);
    await serve(mappingWith({}));
    for (let number = 1; number <= 11; number += 1) await guess(number);
    const plain = { 'content-type': 'application/json' };
    expect(await call({}, JSON.stringify({ ...one, secret: 'old-secret' }), plain)).toBe(200);
    expect(heard).toHaveLength(3);
    expect(reports).toEqual([]);
  });

  it('are forgotten after a minute, also when the clock was set back', async () => {
    for (let number = 1; number <= 11; number += 1) await guess(number);
    now += 59_999;
    expect(await guess(12)).toBe(429);
    now += 1;
    expect(await guess(13)).toBe(403);
    for (let number = 1; number <= 11; number += 1) await guess(number);
    now -= 3_600_000;
    expect(await guess(14)).toBe(403);
  });

  it('are two lines of the log a minute, with how many there were', async () => {
    for (let number = 1; number <= 40; number += 1) await guess(number);
    expect(refusals().map((one) => one.count)).toEqual([1]);
    now += 60_000;
    expect(await call(text)).toBe(200);
    expect(refusals().map((one) => one.count)).toEqual([1, 39]);
    await guess(41);
    expect(refusals().map((one) => one.count)).toEqual([1, 39, 1]);
    expect(logged.join()).not.toContain('guess 4');
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

  it.each([
    ['+99970', '0700123456'],
    ['+2547', '0700123456'],
    ['+277', '0700123456'],
    ['+17', '0700123456'],
  ])('are not garbled by a prefix that is narrower than a country: %s', (prefix, from) => {
    expect(roundNumber(from, [prefix])).toBe(from);
  });

  it.each([
    ['+254', '+254700123456'],
    ['+27', '+27700123456'],
    ['+7', '+7700123456'],
  ])('are completed by a prefix that is a whole country: %s', (prefix, round) => {
    expect(roundNumber('0700123456', [prefix])).toBe(round);
  });

  it.each([
    ['with the trunk digit', '8712345678', '+999712345678'],
    ['without it', '712345678', '+999712345678'],
    ['with a 0 that is none', '0712345678', '0712345678'],
  ])('have a trunk digit of their own where the settings say so: %s', (_which, from, round) => {
    expect(roundNumber(from, ['+999', '+998'], readCountry('+999/9/8'))).toBe(round);
  });

  it.each([
    ['with a 0', '0712345678', '+999712345678'],
    ['without one', '712345678', '+999712345678'],
    ['with the country', '999712345678', '+999712345678'],
    ['with the country behind 00', '00999712345678', '+999712345678'],
    ['of another country that is allowed', '998712345678', '+998712345678'],
    ['too short for either', '71234567', '71234567'],
    ['short as a service', '71234', '71234'],
  ])('are completed by the country of the settings, several prefixes or not: %s', (_which, from, round) => {
    expect(roundNumber(from, ['+99970', '+998'], readCountry('+999 / 9'))).toBe(round);
  });

  it('that could be of two countries are completed to neither', () => {
    expect(roundNumber('9987123456', ['+999', '+998'], readCountry('+999/10'))).toBe('9987123456');
    expect(roundNumber('9977123456', ['+999', '+998'], readCountry('+999/10'))).toBe('+9999977123456');
  });

  it('that keep their 0 behind the country keep it', () => {
    expect(roundNumber('0712345678', ['+999'], readCountry('+999/10'))).toBe('+9990712345678');
  });

  it.each(['999', '+999/3', '+999/', '/9', '+999/13', 'x/9', '+0999/9', '+999/9/', '+999/9/x', '+999/9/123'])(
    '%s is no country',
    (one) => {
      expect(() => readCountry(one)).toThrow(RangeError);
    },
  );

  it('without their country are told from names and short codes', () => {
    expect(['0712345678', '712345678', '447700900123'].every(lacksCountry)).toBe(true);
    expect(['+999712345678', 'BIGSHOP', '1234'].some(lacksCountry)).toBe(false);
  });
});

const file = JSON.parse(readFileSync(new URL('../../../deploy/sms-mapping.example.json', import.meta.url), 'utf8'));
function mappingWith(inbound: object, report: object = {}): GatewayMapping {
  const changed = { ...file, inbound: { ...file.inbound, ...inbound }, report: { ...file.report, ...report } };
  const read = readMapping(JSON.stringify(changed));
  if (!read.ok) throw new Error(read.fault);
  return read.value;
}
const secret = { 'x-neckline-secret': 'new-secret' };
const json = { ...secret, 'content-type': 'application/json' };
const one = { sender: '+000555010001', messageId: 'm1', receivedAt: start / 1000, content: 'SOS' };

describe('a gateway that writes its texts in the body', () => {
  it.each([
    ['JSON', json, JSON.stringify(one)],
    [
      'JSON of another name',
      { ...secret, 'content-type': 'application/vnd.gate+json; charset=utf-8' },
      JSON.stringify(one),
    ],
    ['JSON that says it is plain', { ...secret, 'content-type': 'text/plain' }, ` ${JSON.stringify(one)}`],
    [
      'a form',
      { ...secret, 'content-type': 'application/x-www-form-urlencoded' },
      new URLSearchParams(one as never).toString(),
    ],
    ['multipart', { ...secret, 'content-type': 'multipart/form-data; boundary=xx' }, parts(one)],
  ])('has them read: %s', async (_how, headers, body) => {
    await serve(mappingWith({}));
    expect(await call({}, body, headers)).toBe(200);
    expect(heard).toMatchObject([{ from: '+000555010001', id: 'sms:m1', text: 'SOS', networkAt: start }]);
    expect(unread).toEqual([]);
  });

  it('has them read wherever they stand in it, and with a time that is written', async () => {
    await serve(
      mappingWith({ from: 'data.0.from', id: 'data.0.meta.id', text: 'data.0.body', time: 'at', timeUnit: 'written' }),
    );
    const body = { at: '2030-03-04T09:00:00+0100', data: [{ from: 555010001, meta: { id: 7 }, body: 'hello' }] };
    await serve(
      mappingWith({ from: 'data.0.from', id: 'data.0.meta.id', text: 'data.0.body', time: 'at', timeUnit: 'written' }),
    );
    expect(await call({}, JSON.stringify(body), json)).toBe(200);
    expect(heard).toMatchObject([{ from: '555010001', id: 'sms:7', text: 'hello', networkAt: start }]);
  });

  it.each([
    ['a bare list', null, (list: unknown) => list],
    ['a list in it', 'batch.texts', (list: unknown) => ({ batch: { texts: list } })],
  ])('may bring several in one call: %s', async (_how, each, put) => {
    await serve(mappingWith({ each }));
    const list = ['a', 'b', 'c'].map((content) => ({ ...one, messageId: content, content }));
    expect(await call({}, JSON.stringify(put(list)), json)).toBe(200);
    expect(heard.map((text) => text.text)).toEqual(['a', 'b', 'c']);
    expect(await call({}, JSON.stringify(put([])), json)).toBe(200);
    handled = 'failed';
    expect(await call({}, JSON.stringify(put(list)), json)).toBe(503);
  });

  it('with one of several that cannot be read has the others heard, once, and keeps the call', async () => {
    await serve(mappingWith({ id: null, time: null }));
    const list = [one, { content: 'who am I' }, { ...one, content: 'b' }];
    expect(await call({}, JSON.stringify(list), json)).toBe(503);
    now += 9_000;
    expect(await call({}, JSON.stringify(list), json)).toBe(503);
    expect(heard.map((text) => text.text)).toEqual(['SOS', 'b', 'SOS', 'b']);
    expect(new Set(heard.map((text) => text.id)).size).toBe(2);
    expect(unread.map((call) => call.why)).toEqual(['sender', 'sender']);
  });

  it('has no two texts taken for one because their long numbers begin alike', async () => {
    await serve(mappingWith({ time: null }));
    for (const id of ['9007199254740993', '9007199254740992']) {
      await call({}, JSON.stringify({ ...one, content: id }).replace('"m1"', id), json);
    }
    expect(new Set(heard.map((text) => text.id)).size).toBe(2);
  });

  it('may show its secret in it, and without one is turned away before anything is heard', async () => {
    await serve(mappingWith({}));
    const plain = { 'content-type': 'application/json' };
    expect(await call({}, JSON.stringify({ ...one, secret: 'old-secret' }), plain)).toBe(200);
    expect(await call({}, JSON.stringify({ ...one, secret: 'guessed' }), plain)).toBe(403);
    expect(await call({}, JSON.stringify(one), plain)).toBe(403);
    expect(await call({}, '{', plain)).toBe(403);
    expect([heard.length, unread.length]).toEqual([1, 0]);
  });

  it('may report so too, one text or several', async () => {
    await serve(mappingWith({}, { each: 'results', reference: 'message.callback', status: 'status.name' }));
    const result = (id: string, name: string) => ({
      message: { callback: referenceOf(id, ['new-secret']) },
      status: { name },
    });
    const body = { results: [result('sms:g1:m1', 'DELIVERED'), result('sms:g1:m2', 'EXPIRED')] };
    expect(await call({}, JSON.stringify(body), json, '/sms/report')).toBe(200);
    expect(reports).toEqual([
      ['sms:g1:m1', 'delivered'],
      ['sms:g1:m2', 'failed'],
    ]);
  });
});

function parts(of: Readonly<Record<string, unknown>>): string {
  const each = Object.entries(of).map(
    ([name, value]) => `--xx\r\ncontent-disposition: form-data; name="${name}"\r\n\r\n${value}\r\n`,
  );
  return `${each.join('')}--xx--\r\n`;
}

describe('a call that cannot be read', () => {
  it.each([
    ['JSON with other names', { from: '+000555010001', text: 'hello' }, 'sender', 503],
    ['JSON without a text', { ...one, content: undefined }, 'text', 503],
    ['JSON with a text that is none', { ...one, content: { a: 1 } }, 'text', 503],
    ['JSON with a sender that is none', { ...one, sender: 'x'.repeat(61) }, 'sender', 503],
    ['a list that is somewhere else', { each: one }, 'sender', 503],
    ['broken JSON', '{"sender":"+000555010001","content":"she says "hello""}', 'broken', 400],
    ['a list without end', JSON.stringify(Array.from({ length: 501 }, () => one)), 'broken', 400],
    ['far too much', JSON.stringify({ ...one, content: 'x'.repeat(200_000) }), 'too-long', 413],
  ])('is not answered 200, and people hear of it: %s', async (_what, body, why, status) => {
    await serve(mappingWith({}));
    expect(await call({}, typeof body === 'string' ? body : JSON.stringify(body), json)).toBe(status);
    expect(heard).toEqual([]);
    expect(unread.map((seen) => seen.why)).toEqual([why]);
  });

  it('is a multipart one that breaks off', async () => {
    await serve(mappingWith({}));
    const headers = { ...secret, 'content-type': 'multipart/form-data; boundary=xx' };
    expect(await call({}, parts(one).slice(0, -6), headers)).toBe(400);
    expect(await call({}, parts(one), { ...secret, 'content-type': 'multipart/form-data' })).toBe(400);
    expect(unread.map((seen) => seen.sos)).toEqual([true, true]);
  });

  it('is one by a way of calling that the settings do not allow, and a form where the body should be the text', async () => {
    expect(await call({ ...text, text: 'SOS' }, null)).toBe(405);
    const form = { ...secret, 'content-type': 'application/x-www-form-urlencoded' };
    expect(await call(text, 'content=SOS', form)).toBe(503);
    expect(unread.map((seen) => [seen.why, seen.sos])).toEqual([
      ['method', true],
      ['content-type', true],
    ]);
  });

  it('is a report that names no text, and one in a body that is broken', async () => {
    await serve(mappingWith({}));
    expect(await call({}, '{"id":1,"state":"SOS"}', json, '/sms/report')).toBe(422);
    expect(await call({}, '{', json, '/sms/report')).toBe(400);
    expect(unread.map((seen) => [seen.why, seen.sos])).toEqual([
      ['reference', false],
      ['broken', false],
    ]);
  });

  it('comes again at once when nobody could be told of it', async () => {
    told = false;
    expect(await call({ ...text, from: '' }, 'hello')).toBe(503);
    await serve(mappingWith({}));
    expect(await call({}, '{', json)).toBe(503);
  });

  it.each([
    ['broken JSON', '{"from":"+000555010001","text":"please SOS she "bleeds""}', ['+000555010001']],
    ['escapes of JSON', '{"a":"x\\nSOS","b":"\\u002b000555010001"', ['+000555010001']],
    ['an address', 'msg=SOS%20now&number=%2B000555010001', ['+000555010001']],
    ['a national number', '{"from":"0010001","text":"sos"', ['+000555010001']],
    ['our own number and a time', '{"to":"+000555000000","at":1898841600,"text":"SOS"', []],
    ['two numbers', '+000555010001 +000555010002 +000555010003 SOS', ['+000555010001', '+000555010002']],
  ])('shows an SOS and the numbers in it: %s', async (_what, body, numbers) => {
    await serve(mappingWith({}));
    await call({}, body, secret);
    expect(unread).toMatchObject([{ sos: true, numbers }]);
  });

  it('has the same mark when it comes again, another one has not', async () => {
    await serve(mappingWith({}));
    for (const body of ['{a', '{a', '{b']) await call({}, body, json);
    expect(unread[0]!.mark).toBe(unread[1]!.mark);
    expect(unread[0]!.mark).not.toBe(unread[2]!.mark);
  });
});

describe('a text from a number that does not say its country', () => {
  it('is heard, and people hear that its sender gets no answer; names and short codes are nobody to be answered', async () => {
    for (const from of ['71234567', 'BIGSHOP', '1234', '010001']) await call({ ...text, id: from, from });
    expect(heard.map((one) => one.from)).toEqual(['71234567', 'BIGSHOP', '1234', '+000555010001']);
    expect(unknownForms).toEqual(['71234567']);
  });
});
