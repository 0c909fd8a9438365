import { createServer, type IncomingMessage, type Server, type ServerResponse } from 'node:http';
import type { AddressInfo } from 'node:net';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { SmsChannel } from '../../../src/channels/sms/channel.ts';
import { kannel } from '../../../src/channels/sms/kannel.ts';
import { LinkClock } from '../../../src/channels/sms/link-clock.ts';
import type { GatewayMapping } from '../../../src/channels/sms/mapping.ts';
import { readMapping } from '../../../src/channels/sms/mapping-file.ts';
import { idOfReference } from '../../../src/channels/sms/secrets.ts';
import type { OutboundMessage } from '../../../src/line/ports.ts';

interface Call {
  readonly headers: IncomingMessage['headers'];
  readonly body: string;
}

let server: Server;
let url: string;
let now = Date.UTC(2030, 2, 4, 8);
/** Not the clock: grows whatever happens to it. */
let steady = 500;
const calls: Call[] = [];
const logged: string[] = [];
let answer: (response: ServerResponse) => void;

beforeEach(async () => {
  calls.length = 0;
  logged.length = 0;
  answer = (response) => response.writeHead(202).end('0: Accepted for delivery');
  server = createServer((request, response) => {
    let body = '';
    request.on('data', (part: Buffer) => {
      body += part.toString('utf8');
    });
    request.on('end', () => {
      calls.push({ headers: request.headers, body });
      answer(response);
    });
  });
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  url = `http://127.0.0.1:${(server.address() as AddressInfo).port}/send`;
});
afterEach(() => {
  server.closeAllConnections();
  server.close();
});

function channel(mapping: GatewayMapping = kannel, sendUrl = url): SmsChannel {
  return new SmsChannel({
    mapping,
    account: { sendUrl, user: 'neckline', password: 'account-password', number: '1234' },
    prefixes: ['+000555'],
    secrets: ['new-secret', 'old-secret'],
    reportUrl: 'http://127.0.0.1:8099/sms/report',
    linkClock: new LinkClock(60_000),
    clock: { now: () => now },
    steady: () => steady,
    log: { write: (_level, event, fields) => logged.push(`${event} ${JSON.stringify(fields ?? {})}`) },
  });
}

function message(text: string, other: Partial<OutboundMessage> = {}): OutboundMessage {
  return {
    id: 'sms:abc:m1',
    to: { channel: 'sms', address: '+000555010001' },
    personId: 'w',
    caseId: null,
    at: now,
    lane: 'reply',
    text,
    segments: 1,
    encoding: 'GSM-7',
    flow: '-',
    step: '-',
    code: null,
    ask: null,
    validUntil: now + 90 * 60_000,
    notBefore: now,
    safety: true,
    ...other,
  };
}

describe('a text to the gateway', () => {
  it('goes out as a body, with number, coding, urgency, validity and a report address that carries its id', async () => {
    expect(await channel().send(message('AK: tip ON slide {1}', { lane: 'sos' }))).toEqual({ kind: 'sent' });
    const { headers, body } = calls[0]!;
    expect(body).toBe('AK: tip ON slide {1}');
    expect(headers).toMatchObject({
      'x-kannel-to': '+000555010001',
      'x-kannel-from': '1234',
      'x-kannel-coding': '0',
      'x-kannel-priority': '3',
      'x-kannel-validity': '90',
      'x-kannel-dlr-mask': '31',
    });
    const reported = new URL(String(headers['x-kannel-dlr-url']));
    expect(idOfReference(reported.searchParams.get('ref') ?? '', ['new-secret'])).toBe('sms:abc:m1');
    expect(String(headers['x-kannel-dlr-url'])).toContain('status=%d');
    expect(idOfReference(`${reported.searchParams.get('ref')}`, ['another'])).toBeNull();
  });

  it('goes as UCS-2 only when its letters need it', async () => {
    await channel().send(message('ሰላም'));
    await channel().send(message('à la côte'.replace('ô', 'o')));
    expect(calls.map((one) => one.headers['x-kannel-coding'])).toEqual(['2', '0']);
  });

  it('longer than the gateway sends is cut by us into whole numbered parts, nothing is lost', async () => {
    const words = Array.from({ length: 420 }, (_, index) => `word${index}`);
    expect(await channel().send(message(words.join(' ')))).toEqual({ kind: 'sent' });
    expect(calls.length).toBeGreaterThan(10);
    expect(calls.map((one) => one.body.replace(/^\d+\/\d+ /, '')).join(' ')).toBe(words.join(' '));
  });

  it('to a number outside the allowed prefixes is refused and never leaves', async () => {
    const to = { channel: 'sms', address: '+999123456789' };
    expect(await channel().send(message('x', { to }))).toEqual({ kind: 'refused', why: 'not-allowed' });
    expect(calls).toEqual([]);
  });

  it.each([
    [200, 'sent'],
    [503, 'later'],
    [403, 'later'],
    [404, 'later'],
    [400, 'refused'],
    [500, 'unsure'],
    [302, 'unsure'],
  ])('answered with %i is %s', async (status, kind) => {
    answer = (response) => response.writeHead(status).end('x');
    expect((await channel().send(message('x'))).kind).toBe(kind);
  });

  it('to a gateway that is not there is sent later; with the answer lost its fate is unknown', async () => {
    answer = (response) => response.destroy();
    expect((await channel().send(message('x'))).kind).toBe('unsure');
    await new Promise((resolve) => server.close(resolve));
    expect((await channel().send(message('x'))).kind).toBe('later');
  });

  it('leaves a gateway alone for a while after three faults in a row', async () => {
    answer = (response) => response.writeHead(503).end();
    const one = channel();
    for (let tries = 0; tries < 3; tries += 1) await one.send(message('x'));
    answer = (response) => response.writeHead(202).end();
    expect(await one.send(message('x'))).toMatchObject({ kind: 'later', why: 'gateway-rests' });
    expect(calls).toHaveLength(3);
    steady += 11_000;
    expect((await one.send(message('x'))).kind).toBe('sent');
  });

  it.each([-48, 48])(
    'a clock that is set by %i h after the third fault makes the pause no longer and no shorter',
    async (hours) => {
      const before = now;
      answer = (response) => response.writeHead(503).end();
      const one = channel();
      for (let tries = 0; tries < 3; tries += 1) await one.send(message('x'));
      answer = (response) => response.writeHead(202).end();
      now += hours * 3_600_000;
      expect(await one.send(message('x'))).toEqual({ kind: 'later', waitMs: 10_000, why: 'gateway-rests' });
      steady += 10_000;
      expect((await one.send(message('x'))).kind).toBe('sent');
      now = before;
    },
  );

  it('a gateway that is left alone is tried by one urgent text, and once it takes that one all others go too', async () => {
    const waiting: ServerResponse[] = [];
    answer = (response) => response.writeHead(503).end();
    const one = channel();
    for (let tries = 0; tries < 3; tries += 1) await one.send(message('x'));
    steady += 1_000;
    answer = (response) => waiting.push(response);
    const probe = one.send(message('sos', { lane: 'sos' }));
    expect((await one.send(message('sos', { lane: 'sos' }))).kind).toBe('later');
    expect((await one.send(message('x'))).kind).toBe('later');
    while (waiting.length === 0) await new Promise((resolve) => setImmediate(resolve));
    answer = (response) => response.writeHead(202).end();
    waiting[0]!.writeHead(202).end();
    expect((await probe).kind).toBe('sent');
    expect(calls).toHaveLength(4);
    expect((await one.send(message('x'))).kind).toBe('sent');
  });

  it('leaves neither words nor numbers in the log', async () => {
    answer = (response) => response.writeHead(400).end('bad number +000555010001');
    await channel().send(message('SECRET WORDS'));
    expect(logged.join('\n')).not.toMatch(/SECRET|000555|password/);
    expect(logged).toHaveLength(1);
  });
});

describe('another gateway', () => {
  const file = new URL('../../../deploy/sms-mapping.example.json', import.meta.url);

  it('is a file of names: the shipped example sends JSON with basic authentication', async () => {
    const { readFileSync } = await import('node:fs');
    const read = readMapping(readFileSync(file, 'utf8'));
    expect(read.ok).toBe(true);
    if (!read.ok) return;
    expect(await channel(read.value).send(message('hello'))).toEqual({ kind: 'sent' });
    expect(JSON.parse(calls[0]!.body)).toMatchObject({
      to: '+000555010001',
      from: '1234',
      text: 'hello',
      validity: '90',
    });
    expect(calls[0]!.headers.authorization).toBe(
      `Basic ${Buffer.from('neckline:account-password').toString('base64')}`,
    );
  });

  it.each([
    ['not JSON', '{', 'expected JSON'],
    ['a missing part', '{"name":"x"}', 'inbound'],
    ['an unknown name', '{"name":"x","colour":1}', ''],
  ])('with %s is refused with one line', (_what, text, fault) => {
    const read = readMapping(text);
    expect(read).toMatchObject({ ok: false });
    if (!read.ok) expect(read.fault).toContain(fault);
  });
});
