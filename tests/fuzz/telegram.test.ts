import type { IncomingMessage, ServerResponse } from 'node:http';
import { Readable } from 'node:stream';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Ear, intakeOf } from '../../src/channels/telegram/intake.ts';
import { webhookDoor } from '../../src/channels/telegram/webhook.ts';
import { WrongSecrets } from '../../src/channels/wrong-secrets.ts';
import { jsonLog } from '../../src/observe/log.ts';
import { runs } from '../support/runs.ts';
import { hostileText, seed } from './hostile.ts';

const secret = 'a-secret-that-only-the-messenger-has';
const path = '/telegram/hook';

/** A door over nothing, with what the line would have heard and what was logged. */
function openDoor() {
  const heard: { readonly kind: string; readonly from: string; readonly id: string }[] = [];
  let log = '';
  const hear = (kind: string) => async (from: { readonly address: string }, id: string) => {
    heard.push({ kind, from: from.address, id });
    return 'done' as const;
  };
  const line: Ear = { hearText: hear('text'), hearTap: hear('tap'), hearUnreadable: hear('unreadable') };
  const api = { answerCallbackQuery: async () => true, editMessageReplyMarkup: async () => true };
  const written = jsonLog((one) => {
    log += one;
  }, 'debug');
  const take = intakeOf({ api: api as never, bot: '55', line, nudge: () => undefined, log: written });
  const wrong = new WrongSecrets({ now: () => 0, log: written, channel: 'telegram' });
  const door = webhookDoor({ path, secret, take: () => take, wrong, log: written });
  const call = async (method: string, url: string, shown: string | null, body: string): Promise<number> => {
    const headers = shown === null ? {} : { 'x-telegram-bot-api-secret-token': shown };
    const request = Object.assign(Readable.from(body === '' ? [] : [Buffer.from(body)]), { method, url, headers });
    let status = 404;
    const response = {
      headersSent: false,
      writeHead: (code: number) => {
        status = code;
        return response;
      },
      end: () => response,
    };
    await door(request as unknown as IncomingMessage, response as unknown as ServerResponse);
    return status;
  };
  return { call, heard, log: () => log };
}

const any = fc.oneof(hostileText, fc.jsonValue(), fc.constantFrom(null, -1, 0.5, 2 ** 60, true, [], {}));
const person = fc.record({
  id: fc.oneof(any, fc.constant(7001)),
  is_bot: fc.constantFrom(false, true, 'no', undefined),
});
const chat = fc.record({ id: any, type: fc.constantFrom('private', 'group', 'channel', 1, null) });
const content = fc.constantFrom(
  'text',
  'caption',
  'photo',
  'voice',
  'sticker',
  'media_group_id',
  'date',
  'reply_to_message',
  'forward_origin',
  '__proto__',
);
const message = fc
  .tuple(person, chat, fc.array(fc.tuple(content, any), { maxLength: 4 }))
  .map(([from, where, more]) => ({ message_id: 1, date: 100, from, chat: where, ...Object.fromEntries(more) }));
const tap = fc.record({
  id: any,
  from: person,
  message: fc.oneof(any, message),
  data: fc.oneof(any, fc.constantFrom('f1/3|1', 'doctor/q1|47 1', '|', 't|9', '\u0000|\u0000')),
});
const update = fc.oneof(
  any,
  fc.record({ update_id: fc.oneof(fc.nat(), any), message }, { requiredKeys: [] }),
  fc.record({ update_id: fc.nat(), edited_message: message }, { requiredKeys: [] }),
  fc.record({ update_id: fc.nat(), callback_query: fc.oneof(tap, any) }, { requiredKeys: [] }),
);

describe('updates of a messenger', () => {
  it('without the secret nothing is heard, whatever is posted', async () => {
    const wrong = fc.constantFrom(null, '', secret.slice(0, -1), `${secret} `, secret.toUpperCase(), 'undefined');
    await fc.assert(
      fc.asyncProperty(fc.constantFrom('POST', 'GET'), wrong, update, async (method, shown, what) => {
        const { call, heard } = openDoor();
        expect([401, 405]).toContain(await call(method, path, shown, JSON.stringify(what) ?? ''));
        expect(heard).toEqual([]);
      }),
      { seed, numRuns: runs(300, 9000) },
    );
  });

  it('with it, only a person in a private chat is heard, once, under a name of the update, and nothing breaks', async () => {
    await fc.assert(
      fc.asyncProperty(
        fc.oneof(
          update.map((one) => JSON.stringify(one) ?? ''),
          hostileText,
        ),
        async (body) => {
          const { call, heard, log } = openDoor();
          expect([200, 400, 413]).toContain(await call('POST', path, secret, body));
          expect(heard.length).toBeLessThanOrEqual(1);
          for (const one of heard) {
            const { message, edited_message, callback_query } = JSON.parse(body);
            expect((message ?? edited_message ?? callback_query.message).chat.type).toBe('private');
            expect(one.from).toMatch(/^[1-9]\d{0,15}$/);
            expect(one.id).toMatch(/^tg:55:/);
          }
          expect(log()).not.toContain('telegram-request-failed');
        },
      ),
      { seed, numRuns: runs(1500, 45000), endOnFailure: true },
    );
  });

  it.each(['//', '/telegram/hook/', '/telegram', 'http://[', '/%00', ''])('%j is not its path', async (url) => {
    const { call, heard } = openDoor();
    expect(await call('POST', url, secret, '{}')).toBe(404);
    expect(heard).toEqual([]);
  });
});
