import { createServer, type Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import {
  openTelegram,
  type Telegram,
  type TelegramOptions,
  telegramFaults,
} from '../../../src/channels/telegram/telegram.ts';
import type { Handled } from '../../../src/line/handle.ts';
import { BotApiServer, until } from '../../support/bot-api-server.ts';
import { shipped } from '../../support/shipped.ts';

const { texts } = shipped;
const token = '55:not-to-be-logged';

/** Stands for the line: notes what it hears and answers as told. */
class Ear {
  readonly heard: string[] = [];
  answers: Handled[] = [];
  open = 0;
  mostOpen = 0;
  async hearText(
    from: { address: string },
    id: string,
    text: string,
    at: number | null,
    _moreKeys: readonly string[] = [],
    quoted: string | null = null,
  ): Promise<Handled> {
    return this.note(`${from.address} ${id} ${text} ${at}${quoted === null ? '' : ` on ${quoted}`}`);
  }
  async hearTap(from: { address: string }, id: string, mark: string, reply: string): Promise<Handled> {
    return this.note(`${from.address} ${id} [${mark}] ${reply}`);
  }
  async hearUnreadable(from: { address: string }, id: string, why: string, text: string): Promise<Handled> {
    return this.note(`${from.address} ${id} (${why}) ${text}`);
  }
  private async note(what: string): Promise<Handled> {
    this.open += 1;
    this.mostOpen = Math.max(this.mostOpen, this.open);
    await new Promise((resolve) => setTimeout(resolve, 2));
    this.open -= 1;
    const answer = this.answers.shift() ?? 'done';
    if (answer !== 'failed') this.heard.push(what);
    return answer;
  }
}

let server: BotApiServer;
let ear: Ear;
let telegram: Telegram;
let logged: string[];
let nudges: number;

function open(more: Partial<TelegramOptions> = {}): Telegram {
  telegram = openTelegram({
    token,
    apiRoot: server.root,
    texts,
    locales: ['en', 'fr', 'pt-BR'],
    steady: () => performance.now(),
    log: { write: (...line) => void logged.push(JSON.stringify(line)) },
    pollSeconds: 1,
    callSeconds: 1,
    pauseMs: 10,
    ...more,
  });
  return telegram;
}

const listen = (): void =>
  telegram.listen(ear, () => {
    nudges += 1;
  });

beforeEach(async () => {
  server = await BotApiServer.start();
  server.now = () => 100_000;
  ear = new Ear();
  logged = [];
  nudges = 0;
});
afterEach(async () => {
  await telegram?.stop();
  await server.stop();
  expect(logged.join()).not.toContain('not-to-be-logged');
  expect(logged.join()).not.toContain('7001');
});

describe('polling', () => {
  it('takes a webhook away without losing what waits there, puts the menu, and hears in order', async () => {
    open();
    server.write(7001, '/new');
    server.write(7001, 'AK 1982 F');
    listen();
    await until(() => server.pending() === 0 && ear.heard.length === 2);
    expect(server.calls.find((one) => one.method === 'deleteWebhook')?.payload).toEqual({
      drop_pending_updates: false,
    });
    expect(ear.heard).toEqual(['7001 tg:55:501 new 100000', '7001 tg:55:502 AK 1982 F 100000']);
    expect(nudges).toBe(2);
    await server.called('setMyCommands', 3);
    const menus = server.calls.filter((one) => one.method === 'setMyCommands').map((one) => one.payload);
    expect(menus.map((one) => one.language_code)).toEqual([undefined, 'fr', 'pt']);
    expect(menus[0]?.commands).toContainEqual({ command: 'new', description: 'begin a new patient' });
  });

  it('confirms nothing that is not stored, and goes on in order once it is', async () => {
    open();
    ear.answers = ['failed'];
    server.write(7001, 'first');
    server.write(7001, 'second');
    listen();
    await until(() => server.pending() === 0);
    expect(ear.heard.map((one) => one.split(' ')[2])).toEqual(['first', 'second']);
    expect(logged.join()).toContain('telegram-update-not-stored');
  });

  it('somebody else is not held up by what could not be stored', async () => {
    open();
    ear.answers = ['failed', 'done'];
    server.write(7001, 'first');
    server.write(7002, 'other');
    listen();
    await until(() => server.pending() === 0);
    expect(ear.heard.map((one) => one.split(' ')[2]).slice(0, 2)).toEqual(['other', 'first']);
  });

  it("a call for help among a hundred waiting updates is handed over before all of them, its own sender's too", async () => {
    open();
    for (let user = 1; user <= 48; user += 1) server.write(user, 'a');
    server.write(1, 'b');
    const shown = { id: 900, chat: '3', text: 'q', photo: null, markup: null };
    server.tap(3, shown, 'a|abc/1|SOS');
    for (let user = 50; user <= 97; user += 1) server.write(user, 'a');
    server.write(1, 'SOS');
    server.push({ message: { ...server.base(99), photo: [], caption: 'SOS' } });
    listen();
    await until(() => server.pending() === 0);
    expect(ear.heard).toHaveLength(100);
    expect(
      ear.heard
        .slice(0, 3)
        .map((one) => one.split(' ')[0])
        .sort(),
    ).toEqual(['1', '3', '99']);
    expect(ear.heard.slice(0, 3).every((one) => one.includes('SOS'))).toBe(true);
    const own = ear.heard.filter((one) => one.startsWith('1 ')).map((one) => one.split(' ')[2]);
    expect(own).toEqual(['SOS', 'a', 'b']);
  });

  it('a call for help that could not be stored comes again, and what else its sender wrote waits for it', async () => {
    open();
    ear.answers = ['failed'];
    server.write(7001, 'first');
    server.write(7002, 'other');
    server.write(7001, 'SOS');
    listen();
    await until(() => server.pending() === 0);
    expect(ear.heard.map((one) => one.split(' ')[2]).slice(0, 3)).toEqual(['other', 'SOS', 'first']);
  });

  it('nothing is confirmed before all that came earlier is stored, though a later call for help is', async () => {
    open();
    ear.answers = ['done', 'failed'];
    const first = server.write(7001, 'first');
    server.write(7002, 'SOS');
    listen();
    await until(() => server.pending() === 0);
    const offsets = server.calls.flatMap((one) => (one.method === 'getUpdates' ? [one.payload.offset] : []));
    expect(offsets).toContain(first);
    expect(ear.heard.map((one) => one.split(' ')[2])).toEqual(expect.arrayContaining(['SOS', 'first']));
  });

  it('a reply to a message of the bot names that message', async () => {
    open();
    listen();
    const reply_to_message = { ...server.base(7001), message_id: 41, from: { id: 55, is_bot: true } };
    await server.taken(server.write(7001, '1', { reply_to_message }));
    expect(ear.heard[0]).toMatch(/ on 41$/);
  });

  it('people are heard together, one person one after the other', async () => {
    open();
    for (const user of [1, 2, 3]) for (const text of ['a', 'b']) server.write(user, text);
    listen();
    await until(() => ear.heard.length === 6);
    expect(ear.mostOpen).toBe(3);
    expect(ear.heard.map((one) => one.split(' ')[2])).toEqual(['a', 'a', 'a', 'b', 'b', 'b']);
  });

  it.each(['bad-gateway', 'bad-gateway-page', 'garbage', 'dropped', 'answer-lost', 'conflict'] as const)(
    'goes on after %s',
    async (fault) => {
      server.order('getUpdates', fault, 2);
      open();
      listen();
      const sent = server.write(7001, 'NEW');
      await server.taken(sent);
      expect(ear.heard).toHaveLength(1);
    },
  );

  it('knows for how long nothing could come in, and that it can again', async () => {
    open();
    expect(telegram.channel.deafMs()).toBeNull();
    server.order('getUpdates', 'bad-gateway', 3);
    listen();
    await until(() => (telegram.channel.deafMs() ?? 0) > 5);
    await server.taken(server.write(7001, 'NEW'));
    expect(telegram.channel.deafMs()).toBeNull();
  });

  it('is not deaf where another process hears what comes in', async () => {
    open();
    server.order('getUpdates', 'conflict', 1);
    listen();
    await until(() => logged.join().includes('telegram-polling-waits'));
    expect(telegram.channel.deafMs()).toBeNull();
  });

  it('waits as long as a flood asks', async () => {
    server.retryAfter = 1;
    server.order('getUpdates', 'flood');
    open();
    const began = Date.now();
    listen();
    await server.taken(server.write(7001, 'NEW'));
    expect(Date.now() - began).toBeGreaterThanOrEqual(990);
  });

  it('ends with one line for the operator when the token is none', async () => {
    server.order('deleteWebhook', 'unauthorized');
    server.order('setMyCommands', 'unauthorized');
    open();
    listen();
    await until(() => logged.some((line) => line.includes('telegram-stopped')));
    await new Promise((resolve) => setTimeout(resolve, 60));
    expect(server.calls.filter((one) => one.method === 'getUpdates')).toEqual([]);
    expect(logged.filter((line) => line.includes('telegram-stopped'))).toHaveLength(1);
    expect(logged.join()).toContain('NECKLINE_TELEGRAM_TOKEN');
  });

  it('numbers that begin anew after a quiet week are taken', async () => {
    open();
    listen();
    await server.taken(server.push({ update_id: 9_000, message: { ...server.base(7001), text: 'high' } }));
    await until(() => server.calls.filter((one) => one.method === 'getUpdates').at(-1)?.payload.offset === undefined);
    await server.taken(server.push({ update_id: 17, message: { ...server.base(7001), text: 'low' } }));
    expect(ear.heard.map((one) => one.split(' ')[2])).toEqual(['high', 'low']);
  });

  it('what is no update, and what is not meant for the line, does not hold it up', async () => {
    open();
    listen();
    server.push({ my_chat_member: {} });
    server.push({ message: { ...server.base(7001), chat: { id: -1, type: 'group' }, text: 'NEW' } });
    await server.taken(server.write(7001, 'NEW'));
    expect(ear.heard).toHaveLength(1);
  });
});

describe('a tap', () => {
  const markup = {
    inline_keyboard: [[{ text: '1 a', callback_data: 't|1' }], [{ text: '\u27a4', callback_data: 'a|abc/1|' }]],
  };

  async function tapped(data: string): Promise<void> {
    open();
    listen();
    const shown = { id: 900, chat: '7001', text: 'q', photo: null, markup: structuredClone(markup) };
    server.chats.push(shown);
    await server.taken(server.tap(7001, shown, data));
    await server.called('answerCallbackQuery');
  }

  it('is given to the line, answered, and its buttons go', async () => {
    await tapped('a|abc/1|13');
    expect(ear.heard).toEqual(['7001 tg:55:501 [abc/1] 13']);
    await until(() => server.chats[0]?.markup === null);
  });

  it('that marks is no answer: it shows on the buttons', async () => {
    await tapped('t|1');
    await until(() => server.chats[0]?.markup?.inline_keyboard[1]?.[0]?.text === '\u27a4 1');
    expect(ear.heard).toEqual([]);
  });

  it('that marks on a list so old that Telegram hands over no buttons is said to be old', async () => {
    open();
    listen();
    const shown = { id: 900, chat: '7001', text: 'q', photo: null, markup: null };
    server.chats.push(shown);
    await server.taken(server.tap(7001, shown, 't|1'));
    await server.called('answerCallbackQuery');
    // The line knows no question of that name.
    expect(ear.heard).toEqual(['7001 tg:55:501 [lost] 1']);
  });

  it('on the arrow with nothing marked, or on a strange button, does nothing', async () => {
    await tapped('a|abc/1|');
    expect(ear.heard).toEqual([]);
    expect(server.chats[0]?.markup).toEqual(markup);
  });

  it('is stored and confirmed though Telegram does not answer to its marks', async () => {
    server.order('answerCallbackQuery', 'hangs');
    server.order('editMessageReplyMarkup', 'bad-gateway');
    await tapped('a|abc/1|13');
    expect(ear.heard).toHaveLength(1);
  });

  it('a picture is handed over as what it is', async () => {
    open();
    listen();
    await server.taken(server.push({ message: { ...server.base(7001), photo: [], caption: 'look' } }));
    expect(ear.heard).toEqual([`7001 tg:55:501 (picture) look`]);
  });
});

describe('the webhook', () => {
  const secret = 'a-secret-of-the-webhook';
  let http: Server;
  let root: string;

  async function serve(more: Partial<TelegramOptions> = {}): Promise<void> {
    open({ webhookUrl: 'https://line.invalid/telegram/in', secret, ...more });
    http = createServer((request, response) => {
      void telegram.door!(request, response).then((taken) => taken || response.writeHead(404).end());
    });
    await new Promise<void>((resolve) => http.listen(0, '127.0.0.1', () => resolve()));
    root = `http://127.0.0.1:${(http.address() as AddressInfo).port}`;
  }
  afterEach(async () => {
    http.closeAllConnections();
    await new Promise<void>((resolve) => http.close(() => resolve()));
  });

  const update = (text: string) => ({ update_id: 501, message: { ...server.base(7001), text } });
  async function post(
    body: string,
    more: { path?: string; secret?: string | null; method?: string } = {},
  ): Promise<number> {
    const shown = more.secret === undefined ? secret : more.secret;
    const method = more.method ?? 'POST';
    const response = await fetch(`${root}${more.path ?? '/telegram/in'}`, {
      method,
      headers: shown === null ? {} : { 'x-telegram-bot-api-secret-token': shown },
      ...(method === 'POST' ? { body } : {}),
    });
    return response.status;
  }

  it('is registered with its secret, again until Telegram takes it', async () => {
    server.order('setWebhook', 'bad-gateway');
    server.order('setWebhook', 'flood');
    server.retryAfter = 1;
    await serve();
    listen();
    await until(() => server.webhook !== null);
    expect(server.webhook).toEqual({ url: 'https://line.invalid/telegram/in', secret });
    expect(server.calls.some((one) => one.method === 'getUpdates' || one.method === 'deleteWebhook')).toBe(false);
  });

  it('answers 200 only after the update is stored, else 500', async () => {
    await serve();
    expect(await post(JSON.stringify(update('NEW')))).toBe(503);
    listen();
    ear.answers = ['failed', 'parked', 'duplicate', 'done'];
    const answers = [];
    for (let n = 0; n < 4; n += 1) answers.push(await post(JSON.stringify(update('NEW'))));
    expect(answers).toEqual([500, 200, 200, 200]);
    await telegram.stop();
    expect(await post(JSON.stringify(update('NEW')))).toBe(503);
  });

  it.each([
    ['no secret', { secret: null }, 401],
    ['another secret', { secret: 'a-secret-of-the-webhooK' }, 401],
    ['another path', { path: '/telegram/other' }, 404],
    ['GET', { method: 'GET' }, 405],
  ])('with %s hears nothing', async (_, more, status) => {
    await serve();
    listen();
    expect(await post(JSON.stringify(update('NEW')), more)).toBe(status);
    expect(ear.heard).toEqual([]);
  });

  it.each([
    ['no JSON', '{', 400],
    ['nothing', '', 400],
    ['something else', '[1]', 200],
    ['null', 'null', 200],
    ['far too much', `"${'x'.repeat(300_000)}"`, 413],
  ])('takes %s without a fault', async (_, body, status) => {
    await serve();
    listen();
    expect(await post(body)).toBe(status);
    expect(ear.heard).toEqual([]);
  });

  it('without a secret of its own shows one made from the token', async () => {
    await serve({ secret: undefined });
    listen();
    await until(() => server.webhook !== null);
    const made = server.webhook!.secret;
    expect(made).toMatch(/^[\w-]{43}$/);
    expect(await post(JSON.stringify(update('NEW')), { secret: made })).toBe(200);
  });
});

describe('settings of Telegram', () => {
  it('that cannot be are named without their values', () => {
    expect(telegramFaults({ token: '55:abc' })).toEqual([]);
    const faults = telegramFaults({ token: 'hidden', secret: 'not allowed here' });
    expect(faults).toHaveLength(2);
    expect(faults.join()).not.toMatch(/hidden|not allowed here/);
  });
});
