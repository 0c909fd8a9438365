import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { callsForHelp, readUpdate } from '../../../src/channels/telegram/update.ts';
import { runs } from '../../support/runs.ts';

const from = { id: 7001, is_bot: false, first_name: 'X' };
const chat = { id: 7001, type: 'private' };
const message = (more: object) => ({ update_id: 9, message: { message_id: 1, date: 100, chat, from, ...more } });

describe('an update', () => {
  it.each([
    ['NEW', 'NEW'],
    ['/new', 'new'],
    ['/new@our_line_bot', 'new'],
    ['/case 2986 6010', 'case 2986 6010'],
    ['/start i-0123456789ab-abc', 'start i-0123456789ab-abc'],
    ['/', '/'],
    ['1/2', '1/2'],
    ['/newer/older', '/newer/older'],
  ])('with the words %j is heard as %j', (text, heard) => {
    expect(readUpdate(message({ text }), '55')).toEqual({
      id: 'tg:55:9',
      user: '7001',
      kind: 'text',
      text: heard,
      at: 100_000,
      quoted: null,
    });
  });

  it.each([
    ['photo', 'picture'],
    ['video', 'picture'],
    ['voice', 'voice'],
    ['document', 'other'],
    ['sticker', 'other'],
    ['location', 'other'],
    ['contact', 'other'],
    ['video_note', 'picture'],
    ['audio', 'voice'],
    ['checklist', 'other'],
  ])('with a %s is %s', (name, why) => {
    const heard = readUpdate(message({ [name]: {}, caption: 'SOS' }), '55');
    expect(heard).toMatchObject({ kind: 'unreadable', why, words: 'SOS', id: 'tg:55:9' });
  });

  it.each([
    ['of the bot', { message_id: 41, from: { id: 55, is_bot: true } }, '41'],
    ['of their own', { message_id: 41, from }, null],
    ['without a number', { message_id: 'x', from: { id: 55, is_bot: true } }, null],
    ['of nobody', { message_id: 41 }, null],
    ['of what is none', 'x', null],
  ])('sent as a reply to a message %s', (_whose, reply_to_message, quoted) => {
    expect(readUpdate(message({ text: '1', reply_to_message }), '55')).toMatchObject({ kind: 'text', quoted });
  });

  it.each([
    ['now', { forward_origin: { type: 'hidden_user', sender_user_name: 'X', date: 1 } }],
    ['formerly', { forward_date: 1, forward_from: from }],
    ['from somebody who hides', { forward_sender_name: 'X' }],
    ['from a channel', { forward_from_chat: { id: -1, type: 'channel' } }],
  ])('that was passed on is no text of its sender, as such are marked %s', (_how, more) => {
    expect(readUpdate(message({ text: '/start i-1', ...more }), '55')).toMatchObject({
      kind: 'unreadable',
      why: 'forwarded',
      words: '/start i-1',
    });
    expect(readUpdate(message({ photo: [], caption: 'SOS', ...more }), '55')).toMatchObject({
      why: 'picture',
      words: 'SOS',
    });
  });

  it.each([
    ['a text', message({ text: 'please SOS' }), true],
    ['a text that was changed', { update_id: 1, edited_message: { text: 'SOS', chat, from } }, true],
    ['words under a photo', message({ photo: [], caption: 'sos' }), true],
    ['a button', { update_id: 1, callback_query: { id: 'x', from, data: 'a|abc/1|SOS' } }, true],
    ['another button', { update_id: 1, callback_query: { id: 'x', from, data: 'a|abc/1|1' } }, false],
    ['any text', message({ text: 'LIST' }), false],
    ['nothing', null, false],
  ])('that calls for help is known before it is read: %s', (_how, update, calls) => {
    expect(callsForHelp(update)).toBe(calls);
  });

  it('of an album is one of several, and says so', () => {
    const heard = readUpdate(message({ photo: [], media_group_id: '777' }), '55');
    expect(heard).toMatchObject({ id: 'tg:55:9', beside: { album: '777' } });
  });

  it('with a photo names its largest size', () => {
    const photo = [
      { file_id: 'small', width: 90, height: 67 },
      { file_id: 'AgACAgQAAxkBAAIB-large_1', width: 1280, height: 960 },
      { file_id: 'middle', width: 320, height: 240 },
    ];
    const heard = readUpdate(message({ photo, caption: 'the edge' }), '55');
    expect(heard).toMatchObject({ words: 'the edge', beside: { picture: { file: 'AgACAgQAAxkBAAIB-large_1' } } });
  });

  it.each([
    ['nothing', []],
    ['no list', 'x'],
    ['a name with a space', [{ file_id: 'a b', width: 1, height: 1 }]],
    ['an address', [{ file_id: 'https://elsewhere.invalid/x.jpg', width: 1, height: 1 }]],
    ['a name without end', [{ file_id: 'x'.repeat(251), width: 1, height: 1 }]],
    ['null', [null]],
  ])('with %s for a photo has none to show', (_what, photo) => {
    expect(readUpdate(message({ photo }), '55')).toMatchObject({ why: 'picture', beside: {} });
  });

  it('that changes words says so; one that moves a place says nothing', () => {
    const edited = { message_id: 1, date: 100, chat, from };
    expect(readUpdate({ update_id: 9, edited_message: { ...edited, text: '2' } }, '55')).toMatchObject({
      kind: 'unreadable',
      why: 'edited',
      words: '2',
    });
    expect(readUpdate({ update_id: 9, edited_message: { ...edited, location: {} } }, '55')).toBeNull();
  });

  it.each([
    ['a group', message({ text: 'NEW', chat: { id: -5, type: 'group' } })],
    ['a channel', { update_id: 9, channel_post: { message_id: 1, text: 'NEW', chat: { id: -5, type: 'channel' } } }],
    ['a bot', message({ text: 'NEW', from: { ...from, is_bot: true } })],
    ['nobody', message({ text: 'NEW', from: undefined })],
    ['a service message', message({ pinned_message: {} })],
    [
      'a tap in a group',
      {
        update_id: 9,
        callback_query: { id: 'c', from, data: 'a|b/1|1', message: { chat: { id: -5, type: 'group' } } },
      },
    ],
    ['a tap without its message', { update_id: 9, callback_query: { id: 'c', from, data: 'a|b/1|1' } }],
  ])('of %s is nothing to the line', (_, update) => {
    expect(readUpdate(update, '55')).toBeNull();
  });

  it('with a tap names the question, the answer and the message', () => {
    const callback_query = { id: 'c1', from, data: 'a|abc/12|1', message: { message_id: 44, chat } };
    expect(readUpdate({ update_id: 9, callback_query }, '55')).toEqual({
      id: 'tg:55:9',
      user: '7001',
      kind: 'tap',
      token: 'abc/12',
      reply: '1',
      tapped: { callback: 'c1', messageId: 44, markup: null },
    });
  });

  it('of any shape never throws', () => {
    const shape = fc.letrec((tie) => ({
      any: fc.oneof(
        fc.jsonValue(),
        fc.record(
          {
            update_id: fc.oneof(fc.integer(), fc.string()),
            message: tie('part'),
            edited_message: tie('part'),
            callback_query: tie('part'),
          },
          { requiredKeys: [] },
        ),
      ),
      part: fc.oneof(
        fc.jsonValue(),
        fc.record(
          {
            id: fc.string(),
            from: fc.oneof(fc.constant(from), fc.jsonValue()),
            chat: fc.oneof(fc.constant(chat), fc.jsonValue()),
            text: fc.jsonValue(),
            data: fc.jsonValue(),
            message: fc.oneof(fc.constant({ chat, message_id: 1 }), fc.jsonValue()),
            media_group_id: fc.jsonValue(),
            photo: fc.jsonValue(),
          },
          { requiredKeys: [] },
        ),
      ),
    })).any;
    fc.assert(
      fc.property(shape, (update) => {
        const heard = readUpdate(update, '55');
        expect(heard === null || /^tg:55:/.test(heard.id)).toBe(true);
      }),
      { seed: 11, numRuns: runs(500, 20_000) },
    );
  });
});
