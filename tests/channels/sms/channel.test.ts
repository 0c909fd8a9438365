import { readFileSync } from 'node:fs';
import type { ServerResponse } from 'node:http';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { SmsChannel } from '../../../src/channels/sms/channel.ts';
import { kannel } from '../../../src/channels/sms/kannel.ts';
import type { GatewayMapping } from '../../../src/channels/sms/mapping.ts';
import { readMapping } from '../../../src/channels/sms/mapping-file.ts';
import { idOfReference } from '../../../src/channels/sms/secrets.ts';
import type { OutboundMessage } from '../../../src/line/ports.ts';
import { GatewayServer, smsChannel, smsMessage } from '../../support/gateway-server.ts';

let gateway: GatewayServer;
/** `steady`: not the clock, grows whatever happens to it. */
const clocks = { now: Date.UTC(2030, 2, 4, 8), steady: 500 };
const logged: string[] = [];

beforeEach(async () => {
  logged.length = 0;
  gateway = await new GatewayServer().open();
});
afterEach(() => gateway.close());

const channel = (mapping: GatewayMapping = kannel): SmsChannel => smsChannel(gateway.url, clocks, { mapping }, logged);

const message = (text: string, other: Partial<OutboundMessage> = {}): OutboundMessage =>
  smsMessage(text, clocks.now, other);

describe('a text to the gateway', () => {
  it('goes out as a body, with number, coding, urgency, validity and a report address that carries its id', async () => {
    expect(await channel().send(message('AK: tip ON slide {1}', { lane: 'sos' }))).toEqual({ kind: 'sent' });
    const { headers, body } = gateway.calls[0]!;
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
    expect(gateway.calls.map((one) => one.headers['x-kannel-coding'])).toEqual(['2', '0']);
  });

  it('longer than the gateway sends is cut by us into whole numbered parts, nothing is lost', async () => {
    const words = Array.from({ length: 420 }, (_, index) => `word${index}`);
    expect(await channel().send(message(words.join(' ')))).toEqual({ kind: 'sent' });
    expect(gateway.calls.length).toBeGreaterThan(10);
    expect(gateway.calls.map((one) => one.body.replace(/^\d+\/\d+ /, '')).join(' ')).toBe(words.join(' '));
  });

  it('to a number outside the allowed prefixes is refused and never leaves', async () => {
    const to = { channel: 'sms', address: '+999123456789' };
    expect(await channel().send(message('x', { to }))).toEqual({ kind: 'refused', why: 'not-allowed' });
    expect(gateway.calls).toEqual([]);
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
    gateway.answer = (response) => response.writeHead(status).end('x');
    expect((await channel().send(message('x'))).kind).toBe(kind);
  });

  it('to a gateway that is not there is sent later; with the answer lost its fate is unknown', async () => {
    gateway.answer = (response) => response.destroy();
    expect((await channel().send(message('x'))).kind).toBe('unsure');
    gateway.close();
    expect((await channel().send(message('x'))).kind).toBe('later');
  });

  it('leaves a gateway alone for a while after three faults in a row', async () => {
    gateway.answer = (response) => response.writeHead(503).end();
    const one = channel();
    for (let tries = 0; tries < 3; tries += 1) await one.send(message('x'));
    gateway.answer = (response) => response.writeHead(202).end();
    expect(await one.send(message('x'))).toMatchObject({ kind: 'later', why: 'gateway-rests' });
    expect(gateway.calls).toHaveLength(3);
    clocks.steady += 11_000;
    expect((await one.send(message('x'))).kind).toBe('sent');
  });

  it.each([-48, 48])(
    'a clock that is set by %i h after the third fault makes the pause no longer and no shorter',
    async (hours) => {
      const before = clocks.now;
      gateway.answer = (response) => response.writeHead(503).end();
      const one = channel();
      for (let tries = 0; tries < 3; tries += 1) await one.send(message('x'));
      gateway.answer = (response) => response.writeHead(202).end();
      clocks.now += hours * 3_600_000;
      expect(await one.send(message('x'))).toEqual({ kind: 'later', waitMs: 10_000, why: 'gateway-rests' });
      clocks.steady += 10_000;
      expect((await one.send(message('x'))).kind).toBe('sent');
      clocks.now = before;
    },
  );

  it('a gateway that is left alone is tried by one urgent text, and once it takes that one all others go too', async () => {
    const waiting: ServerResponse[] = [];
    gateway.answer = (response) => response.writeHead(503).end();
    const one = channel();
    for (let tries = 0; tries < 3; tries += 1) await one.send(message('x'));
    clocks.steady += 1_000;
    gateway.answer = (response) => waiting.push(response);
    const probe = one.send(message('sos', { lane: 'sos' }));
    expect((await one.send(message('sos', { lane: 'sos' }))).kind).toBe('later');
    expect((await one.send(message('x'))).kind).toBe('later');
    while (waiting.length === 0) await new Promise((resolve) => setImmediate(resolve));
    gateway.answer = (response) => response.writeHead(202).end();
    waiting[0]!.writeHead(202).end();
    expect((await probe).kind).toBe('sent');
    expect(gateway.calls).toHaveLength(4);
    expect((await one.send(message('x'))).kind).toBe('sent');
  });

  it('leaves neither words nor numbers in the log', async () => {
    gateway.answer = (response) => response.writeHead(400).end('bad number +000555010001');
    await channel().send(message('SECRET WORDS'));
    expect(logged.join('\n')).not.toMatch(/SECRET|000555|password/);
    expect(logged).toHaveLength(1);
  });
});

describe('another gateway', () => {
  const file = new URL('../../../deploy/sms-mapping.example.json', import.meta.url);

  it('is a file of names: the shipped example sends JSON with basic authentication', async () => {
    const read = readMapping(readFileSync(file, 'utf8'));
    expect(read.ok).toBe(true);
    if (!read.ok) return;
    expect(await channel(read.value).send(message('hello'))).toEqual({ kind: 'sent' });
    expect(JSON.parse(gateway.calls[0]!.body)).toMatchObject({
      to: '+000555010001',
      from: '1234',
      text: 'hello',
      validity: '90',
    });
    expect(gateway.calls[0]!.headers.authorization).toBe(
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

describe('a gateway of another kind', () => {
  const example = JSON.parse(
    readFileSync(new URL('../../../deploy/sms-mapping.example.json', import.meta.url), 'utf8'),
  ) as { readonly send: Readonly<Record<string, unknown>> };

  /** The example with other things said of its sending. */
  const read = (send: Readonly<Record<string, unknown>>) =>
    readMapping(JSON.stringify({ ...example, send: { ...example.send, ...send } }));
  const mappingWith = (send: Readonly<Record<string, unknown>>): GatewayMapping => {
    const found = read(send);
    if (!found.ok) throw new Error(found.fault);
    return found.value;
  };

  it('that wants a token in a header gets the password of the settings there, and no log says it', async () => {
    const headers = { Authorization: 'Bearer {password}', 'X-Account': '{user}' };
    gateway.says(403);
    await channel(mappingWith({ basic: false, headers })).send(message('hello'));
    expect(gateway.calls[0]!.headers).toMatchObject({
      authorization: 'Bearer account-password',
      'x-account': 'neckline',
    });
    expect(gateway.calls[0]!.body).not.toContain('account-password');
    expect(logged.join()).toContain('"403"');
    expect(logged.join()).not.toContain('account-password');
  });

  it('that wants lists and numbers in its JSON gets them where the paths say', async () => {
    const put = {
      to: 'messages.0.destinations.0.to',
      from: 'messages.0.from',
      text: 'messages.0.content.text',
      validityMinutes: 'messages.0.validity.amount',
    };
    const fixed = { 'messages.0.validity.timeUnit': 'MINUTES', 'messages.0.flash': false };
    const mapping = mappingWith({ put, fixed, numbers: ['validityMinutes'] });
    expect(await channel(mapping).send(message('hello'))).toEqual({ kind: 'sent' });
    expect(JSON.parse(gateway.calls[0]!.body)).toEqual({
      messages: [
        {
          destinations: [{ to: '+000555010001' }],
          from: '1234',
          content: { text: 'hello' },
          validity: { amount: 90, timeUnit: 'MINUTES' },
          flash: false,
        },
      ],
    });
  });

  it.each([
    ['{"messages":[{"status":{"code":0}}]}', 'sent'],
    ['{"messages":[{"status":{"code":"THROTTLED"}}]}', 'later'],
    ['{"messages":[{"status":{"code":5}}]}', 'refused'],
    ['{"messages":[{"status":{"code":77}}]}', 'unsure'],
    ['{"messages":[]}', 'unsure'],
    ['<html>busy</html>', 'unsure'],
  ])('that answers 200 whatever happens is believed by its body alone: %s is %s', async (body, kind) => {
    const result = { status: 'messages.0.status.code', taken: ['0'], later: ['THROTTLED'], never: ['5'] };
    gateway.says(200, body);
    expect((await channel(mappingWith({ result })).send(message('x'))).kind).toBe(kind);
    gateway.says(503, body);
    expect((await channel(mappingWith({ result })).send(message('x'))).kind).toBe('later');
  });

  it.each([
    ['a hole that nothing fills', { headers: { Authorization: 'Bearer {token}' } }, 'send.headers.Authorization'],
    ['a header that is two', { headers: { Authorization: 'Bearer\r\nx: y' } }, 'send.headers.Authorization'],
    ['two fields in one place', { put: { to: 'to', text: 'to' } }, 'two fields stand in one place'],
    ['a field within another', { put: { to: 'to', text: 'to.0' } }, 'two fields stand in one place'],
    ['numbers without JSON', { body: 'form', numbers: ['to'] }, 'send.numbers'],
  ])('with %s is refused with one line', (_what, send, fault) => {
    expect(read(send)).toMatchObject({ ok: false, fault: expect.stringContaining(fault) });
  });
});
