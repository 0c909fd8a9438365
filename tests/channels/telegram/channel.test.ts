import { type Api, GrammyError } from 'grammy';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { openApi } from '../../../src/channels/telegram/api.ts';
import { TelegramChannel } from '../../../src/channels/telegram/channel.ts';
import type { OutboundMessage } from '../../../src/line/ports.ts';
import { type BotApiFault, BotApiServer } from '../../support/bot-api-server.ts';

const now = 1_000_000;
const token = '55:not-to-be-logged';
let server: BotApiServer;
let logged: string[];

beforeEach(async () => {
  server = await BotApiServer.start();
  logged = [];
});
afterEach(() => server.stop());

function channel(root = server.root): TelegramChannel {
  return new TelegramChannel({
    api: openApi(token, root, 1),
    steady: () => now,
    log: { write: (...line) => void logged.push(JSON.stringify(line)) },
  });
}

function message(more: Partial<OutboundMessage> = {}): OutboundMessage {
  return {
    id: 'm1',
    to: { channel: 'telegram', address: '7001' },
    personId: 'w',
    caseId: null,
    at: now,
    lane: 'reply',
    text: 'AK: risks?',
    segments: 1,
    encoding: 'GSM-7',
    flow: 'new',
    step: 'risks',
    code: null,
    ask: null,
    validUntil: now + 1000,
    notBefore: now,
    safety: true,
    ...more,
  };
}

const longText = Array.from({ length: 120 }, (_, n) => `line ${n} ${'x'.repeat(80)}`).join('\n');
const options = [{ reply: '1', id: 'yes', label: 'yes' }];
const ask = { field: 'f', item: null, kind: 'choice', options, token: 'abc/1' };

describe('a text to Telegram', () => {
  it('goes with its buttons and without previews of links', async () => {
    expect(await channel().send(message({ ask }))).toEqual({ kind: 'sent', providerId: '1' });
    expect(server.chats).toMatchObject([
      {
        chat: '7001',
        text: 'AK: risks?',
        markup: { inline_keyboard: [[{ text: '1 yes', callback_data: 'a|abc/1|1' }]] },
      },
    ]);
    expect(server.calls[0]?.payload.link_preview_options).toEqual({ is_disabled: true });
  });

  it.each<[BotApiFault, object]>([
    ['flood', { kind: 'later', waitMs: 3000, why: 'flood' }],
    ['bad-gateway', { kind: 'later', waitMs: 2000, why: 'server' }],
    ['bad-gateway-page', { kind: 'later', waitMs: 2000, why: 'server' }],
    ['garbage', { kind: 'unsure', why: 'no-answer' }],
    ['dropped', { kind: 'unsure', why: 'no-answer' }],
    ['answer-lost', { kind: 'unsure', why: 'no-answer' }],
    ['hangs', { kind: 'unsure', why: 'no-answer' }],
    ['blocked', { kind: 'refused', why: 'blocked' }],
    ['no-chat', { kind: 'refused', why: 'no-chat' }],
    ['unauthorized', { kind: 'later', waitMs: 60_000, why: 'token' }],
  ])('that meets %s comes to %j', async (fault, result) => {
    server.order('sendMessage', fault);
    expect(await channel().send(message())).toEqual(result);
    expect(logged.join()).not.toContain('not-to-be-logged');
  });

  it('that found no connection was not sent: later, each time a little later', async () => {
    const root = server.root;
    await server.stop();
    const dead = channel(root);
    expect(await dead.send(message())).toEqual({ kind: 'later', waitMs: 2000, why: 'not-sent' });
    expect(await dead.send(message())).toEqual({ kind: 'later', waitMs: 4000, why: 'not-sent' });
    server = await BotApiServer.start();
  });

  it('whose buttons are refused goes without them', async () => {
    server.order('sendMessage', 'bad-buttons');
    expect(await channel().send(message({ ask }))).toEqual({ kind: 'sent', providerId: '1' });
    expect(server.chats).toMatchObject([{ text: 'AK: risks?', markup: null }]);
  });

  it('to a chat that asked to wait is not tried before', async () => {
    const one = channel();
    server.order('sendMessage', 'flood');
    await one.send(message());
    expect(await one.send(message({ id: 'm2' }))).toEqual({ kind: 'later', waitMs: 3000, why: 'pace' });
    expect(server.calls).toHaveLength(1);
  });

  it('longer than a message goes in parts, the buttons under the last', async () => {
    const long = message({ text: longText, ask });
    expect((await channel().send(long)).kind).toBe('sent');
    expect(server.chats.map((shown) => shown.text).join('\n')).toBe(long.text);
    expect(server.chats.map((shown) => shown.markup !== null)).toEqual([false, false, true]);
  });

  it('of which a part went out goes on after it', async () => {
    let at = now;
    const sent: string[] = [];
    const sendMessage = async (_chat: string, text: string) => {
      if (sent.length === 1 && at === now) {
        throw new GrammyError(
          '',
          { ok: false, error_code: 429, description: '', parameters: { retry_after: 2 } },
          '',
          {},
        );
      }
      sent.push(text);
      return { message_id: sent.length };
    };
    const api = { sendMessage } as unknown as Api;
    const one = new TelegramChannel({ api, steady: () => at, log: { write: () => undefined } });
    expect(await one.send(message({ text: longText }))).toMatchObject({ kind: 'later', waitMs: 2000 });
    at += 2000;
    expect((await one.send(message({ text: longText }))).kind).toBe('sent');
    expect(sent.join('\n')).toBe(longText);
  });

  it.each(['', '-100123', 'someone', '1e9'])('to the address %j is refused without a call', async (address) => {
    expect((await channel().send(message({ to: { channel: 'telegram', address } }))).kind).toBe('refused');
    expect(server.calls).toEqual([]);
  });
});

describe('a photo that is passed on', () => {
  it('goes by its name, with the text under it, and cannot be passed on from there', async () => {
    const sent = await channel().send(message({ picture: 'AgAC-1', text: 'Q47 AK: look', ask }));
    expect(sent).toEqual({ kind: 'sent', providerId: '1' });
    expect(server.calls).toMatchObject([
      { method: 'sendPhoto', payload: { photo: 'AgAC-1', caption: 'Q47 AK: look', protect_content: true } },
    ]);
    expect(server.chats).toMatchObject([{ photo: 'AgAC-1', markup: { inline_keyboard: [[{ text: '1 yes' }]] } }]);
  });

  it('with more words than fit under it: the rest follows, buttons last', async () => {
    const text = `${'word '.repeat(250)}end`;
    await channel().send(message({ picture: 'AgAC-1', text, ask }));
    expect(server.chats.map((one) => [one.photo, one.markup !== null])).toEqual([
      ['AgAC-1', false],
      [null, true],
    ]);
    expect(server.chats[0]!.text.length).toBeLessThanOrEqual(1024);
    expect(server.chats.map((one) => one.text).join(' ')).toBe(text);
  });

  it('that Telegram does not know is refused, with its text: words about nothing help nobody', async () => {
    server.order('sendPhoto', 'no-such-file');
    expect(await channel().send(message({ picture: 'AgAC-1' }))).toEqual({ kind: 'refused', why: 'telegram-400' });
    expect(server.chats).toEqual([]);
  });

  it('waits in a flood like every text', async () => {
    server.order('sendPhoto', 'flood');
    expect(await channel().send(message({ picture: 'AgAC-1' }))).toMatchObject({ kind: 'later', why: 'flood' });
  });
});
