import { readFileSync } from 'node:fs';
import type { IncomingMessage, ServerResponse } from 'node:http';
import { Readable } from 'node:stream';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type DoorOptions, type SmsHearing, smsDoor } from '../../src/channels/sms/door.ts';
import { textAtMost } from '../../src/channels/sms/inbound.ts';
import { kannel } from '../../src/channels/sms/kannel.ts';
import { LinkClock } from '../../src/channels/sms/link-clock.ts';
import { readMapping } from '../../src/channels/sms/mapping-file.ts';
import { referenceOf } from '../../src/channels/sms/secrets.ts';
import type { UnreadableCall } from '../../src/channels/sms/unreadable.ts';
import { WrongSecrets } from '../../src/channels/wrong-secrets.ts';
import { jsonLog } from '../../src/observe/log.ts';
import { runs } from '../support/runs.ts';
import { hostileText, seed } from './hostile.ts';

const secrets = ['correct-horse-battery', 'the-one-before'];
const now = Date.UTC(2030, 2, 4, 8);

interface Call {
  readonly method: string;
  readonly url: string;
  readonly headers: Readonly<Record<string, string>>;
  readonly body: string;
}

/** A door over nothing, with what it let through and what it logged. */
function openDoor(mapping: DoorOptions['mapping'] = kannel) {
  const heard: Parameters<SmsHearing['hear']>[0][] = [];
  const reported: [string, string][] = [];
  const unread: UnreadableCall[] = [];
  let log = '';
  const write = jsonLog((line) => {
    log += line;
  }, 'debug');
  const door = smsDoor({
    name: 'sms',
    mapping,
    secrets,
    prefixes: ['+000'],
    country: { code: '+000555', digits: 6, trunk: '0' },
    own: '+000555000000',
    allowGet: false,
    secretInQuery: false,
    wrong: new WrongSecrets({ now: () => now, log: write, channel: 'sms' }),
    linkClock: new LinkClock(60_000),
    clock: { now: () => now },
    log: write,
    line: {
      hear: async (text) => {
        heard.push(text);
        return 'done';
      },
      report: async (id, status) => reported.push([id, status]),
      unreadable: async (seen) => {
        unread.push(seen);
        return true;
      },
      unknownForm: async () => true,
    },
  });
  const call = async (one: Call): Promise<number> => {
    const request = Object.assign(Readable.from(one.body === '' ? [] : [Buffer.from(one.body)]), {
      method: one.method,
      url: one.url,
      headers: one.headers,
    }) as unknown as IncomingMessage;
    let status = 0;
    const response = {
      headersSent: false,
      writeHead: (code: number) => {
        status = code;
      },
      end: () => undefined,
    } as unknown as ServerResponse;
    const taken = await door(request, response);
    return taken ? status : 404;
  };
  return { call, heard, reported, unread, log: () => log };
}

/** Without halves of a character: they cannot be written into an address. */
const wellFormed = (text: string): string => text.replace(/\p{Cs}/gu, '');

const word = fc.oneof(
  hostileText,
  fc.constantFrom('+000555010001', '000555010001', 'BANK', '', ' ', '1898841600', '-1', '9'.repeat(30), '%d'),
);
const query = fc
  .array(
    fc.tuple(fc.constantFrom('from', 'to', 'id', 'time', 'udh', 'ref', 'status', 'text', 'x', '__proto__'), word),
    { maxLength: 8 },
  )
  .map((pairs) =>
    new URLSearchParams(pairs.map(([name, value]): [string, string] => [name, wellFormed(value)])).toString(),
  );
const path = fc.constantFrom(
  '/sms/in',
  '/sms/report',
  '/sms/in/',
  '//',
  '//sms/in',
  '/',
  '/sms',
  '/SMS/IN',
  '/sms/in%00',
  '\\',
  'http://[',
);
const type = fc.constantFrom(
  'text/plain',
  'application/x-www-form-urlencoded',
  'application/json',
  'application/x+json; charset=utf-16',
  'multipart/form-data; boundary=xx',
  'multipart/form-data; boundary=""',
  'multipart/form-data',
  '',
);
const method = fc.constantFrom('GET', 'POST', 'PUT', 'HEAD');
/** JSON with names that the mapping looks for, at places where it does and does not. */
const named = fc.record(
  {
    sender: fc.oneof(word, fc.jsonValue()),
    content: fc.oneof(word, fc.jsonValue()),
    messageId: fc.oneof(word, fc.double()),
    receivedAt: fc.oneof(word, fc.double()),
    secret: word,
    ref: fc.oneof(word, fc.jsonValue()),
    __proto__: fc.jsonValue(),
  },
  { requiredKeys: [] },
);
const jsonBody = fc
  .oneof(fc.jsonValue(), named, fc.array(named, { maxLength: 5 }), fc.record({ results: fc.array(named) }))
  .chain((value) => {
    const sound = JSON.stringify(value);
    return fc.oneof(
      fc.constant(sound),
      fc.nat(sound.length).map((cut) => sound.slice(0, cut)),
    );
  });
const multipartBody = fc
  .array(fc.tuple(fc.constantFrom('sender', 'content', 'secret', 'ref', '"', 'x"; filename="y'), word), {
    maxLength: 5,
  })
  .chain((pairs) => {
    const each = pairs.map(
      ([name, value]) => `--xx\r\ncontent-disposition: form-data; name="${name}"\r\n\r\n${value}\r\n`,
    );
    const sound = `${each.join('')}--xx--\r\n`;
    return fc.oneof(
      fc.constant(sound),
      fc.nat(sound.length).map((cut) => sound.slice(0, cut)),
    );
  });
const body = fc.oneof(
  hostileText,
  query,
  jsonBody,
  multipartBody,
  fc.constantFrom('['.repeat(60_000), `${'{"results":'.repeat(10_000)}`, '[]', '{}', 'null'),
  fc.constant('x'.repeat(textAtMost * 12 + 1)),
  fc.constant('y'.repeat(textAtMost + 1)),
);
const example = JSON.parse(readFileSync(new URL('../../deploy/sms-mapping.example.json', import.meta.url), 'utf8'));
const mappings = [
  kannel,
  ...[null, 'results', 'a.0.b'].map((each) => {
    const read = readMapping(JSON.stringify({ ...example, inbound: { ...example.inbound, each } }));
    if (!read.ok) throw new Error(read.fault);
    return read.value;
  }),
];
const mapping = fc.constantFrom(...mappings);
const wrongSecret = fc.oneof(
  fc.constant({}),
  fc
    .constantFrom('', 'correct-horse', 'correct-horse-battery ', secrets.join(','), 'undefined', 'null')
    .map((one) => ({ 'x-neckline-secret': one })),
  fc
    .constantFrom('Basic', 'Basic ====', `Basic ${Buffer.from('a:b').toString('base64')}`, `Bearer ${secrets[0]}`)
    .map((one) => ({ authorization: one })),
);

describe('calls of a gateway', () => {
  it('without the secret nothing is heard, and every answer is a refusal', async () => {
    await fc.assert(
      fc.asyncProperty(
        mapping,
        method,
        path,
        query,
        type,
        body,
        wrongSecret,
        async (by, how, where, asked, kind, what, headers) => {
          const { call, heard, reported, unread, log } = openDoor(by);
          const url = where.includes('?') ? where : `${where}?${asked}`;
          const status = await call({ method: how, url, headers: { 'content-type': kind, ...headers }, body: what });
          expect([403, 404, 405, 413]).toContain(status);
          expect([heard, reported, unread]).toEqual([[], [], []]);
          expect(log()).not.toMatch(/000555|correct-horse/);
        },
      ),
      { seed, numRuns: runs(500, 15000) },
    );
  });

  it('with it, what is heard are texts of a sender within their limits, all else is told of, and no call breaks the door', async () => {
    await fc.assert(
      fc.asyncProperty(
        mapping,
        method,
        path,
        query,
        type,
        body,
        fc.constantFrom(...secrets),
        async (by, how, where, asked, kind, what, secret) => {
          const { call, heard, unread, log } = openDoor(by);
          const headers = { 'content-type': kind, 'x-neckline-secret': secret };
          const status = await call({ method: how, url: `${where}?${asked}`, headers, body: what });
          expect([200, 400, 404, 405, 413, 422, 503]).toContain(status);
          if (how !== 'POST') expect(heard).toEqual([]);
          if (by === kannel) expect(heard.length).toBeLessThanOrEqual(1);
          // Taken or told of, never neither and never answered as if it were taken.
          expect(unread).toHaveLength(status === 200 || status === 404 ? 0 : 1);
          if (status === 200 && how === 'POST' && by === kannel && where === '/sms/in') expect(heard).toHaveLength(1);
          for (const one of heard) {
            expect(one.from.trim()).not.toBe('');
            expect(one.from.length).toBeLessThanOrEqual(60);
            expect(one.text.length).toBeLessThanOrEqual(textAtMost);
            expect(one.id).toMatch(/^sms:[\x20-\x7e]+$/);
          }
          expect(log()).not.toMatch(/000555|correct-horse/);
        },
      ),
      {
        seed,
        numRuns: runs(500, 15000),
        endOnFailure: true,
        // All is as it should be but the length, which chance seldom brings together.
        examples: [
          [
            kannel,
            'POST',
            '/sms/in',
            'from=%2B000555010001&id=1',
            'text/plain',
            'y'.repeat(textAtMost + 1),
            secrets[0]!,
          ],
        ],
      },
    );
  });

  it('a report moves a text only under a reference that the line made', async () => {
    const { call, reported } = openDoor();
    const good = referenceOf('play:1:m1', secrets);
    const forged = fc.oneof(
      hostileText,
      fc.nat(good.length - 1).map((at) => `${good.slice(0, at)}${good[at] === 'A' ? 'B' : 'A'}${good.slice(at + 1)}`),
      fc.constantFrom(
        referenceOf('play:1:m1', ['another secret']),
        referenceOf('play:1:m1', ['']),
        good.slice(0, -1),
        `${good}A`,
      ),
    );
    const report = (ref: string, status: string): Promise<number> =>
      call({
        method: 'GET',
        url: `/sms/report?${new URLSearchParams({ ref: wellFormed(ref), status })}`,
        headers: { 'x-neckline-secret': secrets[0]! },
        body: '',
      });
    await fc.assert(
      fc.asyncProperty(forged, fc.constantFrom('1', '2', '4', '8', '16', '99', '', 'x'), async (ref, status) => {
        if (ref === good) return;
        expect(await report(ref, status)).toBe(200);
        expect(reported).toEqual([]);
      }),
      { seed, numRuns: runs(400, 12000) },
    );
    expect(await report(good, '1')).toBe(200);
    expect(reported).toEqual([['play:1:m1', 'delivered']]);
  });
});
