import { connect } from 'node:net';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { intakeOf } from '../../src/channels/telegram/intake.ts';
import { webhookDoor } from '../../src/channels/telegram/webhook.ts';
import { WrongSecrets } from '../../src/channels/wrong-secrets.ts';
import { type HttpServer, startHttp } from '../../src/cli/http-server.ts';
import { jsonLog } from '../../src/observe/log.ts';
import { LinkedLine } from '../support/linked-line.ts';
import { person } from '../support/links.ts';

/* Whoever finds the webhook's address tries what can be tried at the door of a whole line. */
const secret = 'what-only-the-messenger-knows';
const path = '/telegram/a-path-of-its-own';
const [ada, beno] = [7001, 7002];
const onTelegram = (id: string, user: number) => ({
  ...person(id, 'worker', ['telegram']),
  addresses: [{ channel: 'telegram', address: String(user) }],
});

let line: LinkedLine;
let server: HttpServer;
let logged: string[];
let now: number;
beforeEach(async () => {
  now = 0;
  logged = [];
  line = await LinkedLine.open([onTelegram('w', ada), onTelegram('v', beno), person('c', 'coordinator', ['sms'])]);
  await serve();
});
afterEach(async () => {
  await server.close();
  await line.close();
});

async function serve(slowestMs?: number): Promise<void> {
  const log = jsonLog((one) => logged.push(one), 'debug');
  const api = { answerCallbackQuery: async () => true, editMessageReplyMarkup: async () => true };
  const take = intakeOf({ api: api as never, bot: '55', line: line.line, nudge: () => undefined, log });
  const wrong = new WrongSecrets({ now: () => now, log, channel: 'telegram' });
  const door = webhookDoor({ path, secret, wrong, take: () => take, log });
  const health = async () => ({ ok: true });
  const slowest = slowestMs === undefined ? {} : { slowestMs };
  server = await startHttp({ host: '127.0.0.1', port: 0, doors: [door], health, log, ...slowest });
}

let updates = 100;
const message = (user: number, text: string, more: object = {}) => ({
  message_id: 1,
  date: 100,
  from: { id: user, is_bot: false },
  chat: { id: user, type: 'private' },
  text,
  ...more,
});
const next = (): number => {
  updates += 1;
  return updates;
};
const update = (text: string, user = ada, more: object = {}) => ({
  update_id: next(),
  message: message(user, text, more),
});

type Headers = Readonly<Record<string, string>>;
const shown: Headers = { 'x-telegram-bot-api-secret-token': secret };

async function post(body: unknown, headers: Headers = shown, method = 'POST'): Promise<number> {
  const text = typeof body === 'string' ? body : JSON.stringify(body);
  const sent = method === 'GET' || method === 'HEAD' ? {} : { body: text };
  const response = await fetch(new URL(path, server.url), { method, headers, ...sent });
  expect(await response.text()).toBe('');
  return response.status;
}

/** Statuses of what is answered to these very bytes, until the line closes the connection. */
function raw(...parts: readonly string[]): Promise<readonly number[]> {
  return new Promise((resolve) => {
    let answered = '';
    const socket = connect(Number(new URL(server.url).port), '127.0.0.1', () => {
      for (const part of parts) socket.write(part);
    });
    socket.on('data', (bytes) => {
      answered += bytes.toString('latin1');
    });
    socket.on('error', () => undefined);
    socket.on('close', () => resolve([...answered.matchAll(/^HTTP\/1\.1 (\d{3})/gm)].map((found) => Number(found[1]))));
  });
}
const head = (target: string, ...lines: readonly string[]): string =>
  [
    `POST ${target} HTTP/1.1`,
    'Host: x',
    'Connection: close',
    `X-Telegram-Bot-Api-Secret-Token: ${secret}`,
    ...lines,
    '',
    '',
  ].join('\r\n');

/** Texts that anybody was sent, each worth what somebody was heard to say. */
async function texts(): Promise<number> {
  await line.line.settle();
  return line.telegram.asked.length + line.sms.asked.length;
}

/** The messenger itself is heard, whatever was tried before. */
async function isHeard(): Promise<void> {
  const before = await texts();
  expect(await post(update('LIST'))).toBe(200);
  expect(await texts()).toBe(before + 1);
}

describe("a stranger at the messenger's door", () => {
  it.each<[string, Headers]>([
    ['no secret', {}],
    ['an empty one', { 'x-telegram-bot-api-secret-token': '' }],
    ['its beginning', { 'x-telegram-bot-api-secret-token': secret.slice(0, -1) }],
    ['more than it', { 'x-telegram-bot-api-secret-token': `${secret}s` }],
    ['large letters', { 'x-telegram-bot-api-secret-token': secret.toUpperCase() }],
    ['it twice', { 'x-telegram-bot-api-secret-token': `${secret}, ${secret}` }],
    ['it under another name', { 'x-neckline-secret': secret, authorization: `Bearer ${secret}` }],
  ])('who shows %s is not heard', async (_what, headers) => {
    expect(await post(update('SOS'), headers)).toBe(401);
    expect(await texts()).toBe(0);
    await isHeard();
  });

  it('who shows the secret in two headers is not heard', async () => {
    const body = JSON.stringify(update('SOS'));
    const twice = head(path, `X-Telegram-Bot-Api-Secret-Token: ${secret}`, `Content-Length: ${body.length}`);
    expect(await raw(twice, body)).toEqual([401]);
    expect(await texts()).toBe(0);
  });

  it('who puts the secret into the address is not heard', async () => {
    const body = JSON.stringify(update('SOS'));
    const address = new URL(`${path}?secret=${secret}&secret_token=${secret}`, server.url);
    expect((await fetch(address, { method: 'POST', body })).status).toBe(401);
    expect(await texts()).toBe(0);
  });

  it('who guesses gets 429 after ten in a minute, and two lines of the log; the messenger is heard all the same', async () => {
    const guess = (number: number) => post(update('SOS'), { 'x-telegram-bot-api-secret-token': `guess ${number}` });
    for (let number = 1; number <= 40; number += 1) expect(await guess(number)).toBe(number <= 10 ? 401 : 429);
    await isHeard();
    now += 60_000;
    expect(await guess(41)).toBe(401);
    const refusals = logged.map((one) => JSON.parse(one)).filter((one) => one.log === 'telegram-call-refused');
    expect(refusals.map((one) => one.count)).toEqual([1, 39, 1]);
    expect(logged.join()).not.toMatch(/guess \d|messenger-knows/);
  });

  it('whose body is long is refused by the head alone', async () => {
    const wrong = ['POST', path, 'HTTP/1.1'].join(' ');
    const opened = `${wrong}\r\nHost: x\r\nConnection: close\r\nContent-Length: 200000\r\n\r\n`;
    expect(await raw(opened)).toEqual([401]);
  });
});

describe('who knows the secret', () => {
  it.each(['GET', 'HEAD', 'PUT', 'DELETE', 'OPTIONS', 'PATCH'])('is not heard by %s', async (method) => {
    expect(await post(update('SOS'), shown, method)).toBe(405);
    expect(await texts()).toBe(0);
    await isHeard();
  });

  it.each([
    `${path}/`,
    `/${path}`,
    `${path}%00`,
    `${path};x`,
    `${path}.json`,
    path.toUpperCase(),
    path.replace('a-path', '%61-path'),
    path.replace('/telegram', '/telegram/.'),
    path.replace('/telegram', '/x/../telegram'),
    `http://x${path}`,
    `${path}#x`,
    '*',
    '/',
  ])('is not heard at %s', async (target) => {
    const body = JSON.stringify(update('SOS'));
    const [status] = await raw(head(target, `Content-Length: ${body.length}`), body);
    expect([400, 404]).toContain(status);
    expect(await texts()).toBe(0);
  });

  it.each([
    ['announced', (size: number) => [head(path, `Content-Length: ${size}`), 'x'.repeat(size)]],
    [
      'in pieces of no known number',
      (size: number) => [
        head(path, 'Transfer-Encoding: chunked'),
        `${size.toString(16)}\r\n${'x'.repeat(size)}\r\n0\r\n\r\n`,
      ],
    ],
  ])('and sends far too much, %s, is refused', async (_how, parts) => {
    expect(await raw(...parts(300_000))).toEqual([413]);
    // So much that nobody reads it to its end: the connection is left, with an answer or without one.
    expect([[], [413]]).toContainEqual(await raw(...parts(20_000_000)));
    await isHeard();
  });

  it('and says it too slowly is cut off, while others are heard', async () => {
    await server.close();
    await serve(200);
    const slow = raw(head(path, 'Content-Length: 500'), '{"update_id":');
    await isHeard();
    expect([[], [408]]).toContainEqual(await slow);
    await isHeard();
  });

  it('and gives two lengths of one body is refused, and no second call hides in the first', async () => {
    const hidden = JSON.stringify(update('SOS'));
    const second = `${head(path, `Content-Length: ${hidden.length}`)}${hidden}`;
    const smuggled = [
      head(path, 'Content-Length: 5', 'Transfer-Encoding: chunked').replace('Connection: close\r\n', ''),
      `0\r\n\r\n${second}`,
    ];
    expect((await raw(...smuggled))[0]).toBe(400);
    const lengths = head(path, 'Content-Length: 5', `Content-Length: ${second.length}`);
    expect((await raw(lengths.replace('Connection: close\r\n', ''), `12345${second}`))[0]).toBe(400);
    const odd = head(path, 'Transfer-Encoding: xchunked').replace('Connection: close\r\n', '');
    expect([400, 501]).toContain((await raw(odd, `0\r\n\r\n${second}`))[0]);
    expect(await texts()).toBe(0);
    await isHeard();
  });

  it.each([
    ['application/x-www-form-urlencoded', 'update_id=1&message=SOS'],
    [
      'multipart/form-data; boundary=x',
      '--x\r\ncontent-disposition: form-data; name="message"\r\n\r\nSOS\r\n--x--\r\n',
    ],
    ['application/xml', '<message>SOS</message>'],
    ['application/json', '{"update_id": 1, "message": '],
    ['application/json', `{"a":${'['.repeat(50_000)}`],
    ['application/json; charset=utf-16', Buffer.from('{}', 'utf16le').toString('latin1')],
    ['text/plain', ''],
  ])('and writes %s that is no update gets 400, and is not heard', async (type, body) => {
    expect(await post(body, { ...shown, 'content-type': type })).toBe(400);
    expect(await texts()).toBe(0);
    await isHeard();
  });

  it('and writes deep or strange JSON breaks nothing', async () => {
    for (const body of [
      '[]',
      '0',
      'null',
      '"SOS"',
      `${'['.repeat(50_000)}${']'.repeat(50_000)}`,
      '{"__proto__":{"update_id":1}}',
      '{"update_id":1e400}',
    ])
      expect(await post(body)).toBe(200);
    expect(await texts()).toBe(0);
    expect(logged.join()).not.toContain('failed');
    await isHeard();
  });

  it('and brings an update again, at once or later, with these words or with others, is heard once', async () => {
    const one = update('LIST');
    expect(await Promise.all([1, 2, 3, 4, 5].map(() => post(one)))).toEqual([200, 200, 200, 200, 200]);
    expect(await texts()).toBe(1);
    line.now += 86_400_000;
    expect(await post(one)).toBe(200);
    expect(await post({ ...one, message: message(ada, 'SOS') })).toBe(200);
    expect(await texts()).toBe(1);
    await isHeard();
  });

  it.each<[string, object]>([
    ['a group', { chat: { id: -100, type: 'group' } }],
    ['a group under the number of a person', { chat: { id: ada, type: 'group' } }],
    ['a large group', { chat: { id: -100200, type: 'supergroup' } }],
    ['a channel', { chat: { id: -100300, type: 'channel' } }],
    ['a chat of no kind', { chat: { id: ada } }],
    ["somebody else's chat", { chat: { id: beno, type: 'private' } }],
    ['a bot', { from: { id: ada, is_bot: true } }],
    ['nobody', { from: undefined }],
    ['a number in quotes', { from: { id: String(ada), is_bot: false } }],
    ['somebody below nobody', { from: { id: -ada, is_bot: false } }],
  ])('and brings words from %s moves nothing and answers nobody', async (_whose, more) => {
    expect(await post(update('SOS', ada, more))).toBe(200);
    const { message: words } = update('SOS', ada, more);
    expect(await post({ update_id: next(), edited_message: words })).toBe(200);
    const tap = { id: 't1', from: words.from, message: words, data: 'f0/1|SOS' };
    expect(await post({ update_id: next(), callback_query: tap })).toBe(200);
    for (const kind of ['channel_post', 'edited_channel_post', 'business_message', 'inline_query', 'my_chat_member'])
      expect(await post({ update_id: next(), [kind]: { ...words, query: 'SOS' } })).toBe(200);
    expect(await texts()).toBe(0);
    await isHeard();
  });

  it("cannot answer another person's question from a chat of their own", async () => {
    expect(await post(update('NEW', beno))).toBe(200);
    await texts();
    const asked = line.telegram.to('v').length;
    const answer = { id: 't2', from: { id: ada, is_bot: false }, message: message(beno, 'x'), data: 'f0/1|1' };
    expect(await post({ update_id: next(), callback_query: answer })).toBe(200);
    await texts();
    expect(line.telegram.to('v')).toHaveLength(asked);
  });
});
