/** What came from Telegram, read without trust: whoever knows the webhook's secret could send anything. */
import type { Message } from 'grammy/types';
import type { Unreadable } from '../../conversation/event.ts';
import { carriedBy } from './buttons.ts';

/** Kinds of updates that are asked for. */
export const allowedUpdates = ['message', 'edited_message', 'callback_query'] as const;

/** Somebody's private chat: the numeric id of the user is also the chat's. */
interface From {
  /** Unique over time: bot and update. */
  readonly id: string;
  readonly user: string;
}

/** The message whose button was tapped. */
export interface Tapped {
  readonly callback: string;
  readonly messageId: number | null;
  readonly markup: NonNullable<Message['reply_markup']> | null;
}

export type Heard =
  | (From & { readonly kind: 'text'; readonly text: string; readonly at: number | null })
  /** No text of its own; `words`: its caption, or the changed words. */
  | (From & { readonly kind: 'unreadable'; readonly why: Unreadable; readonly words: string })
  | (From & { readonly kind: 'tap'; readonly token: string; readonly reply: string; readonly tapped: Tapped })
  | (From & { readonly kind: 'toggle'; readonly reply: string; readonly tapped: Tapped })
  /** A button without effect: only the tap itself is answered. */
  | (From & { readonly kind: 'idle-tap'; readonly tapped: Tapped });

/** What a message can carry beside words, and what that is to the line. */
const carried: readonly (readonly [name: string, why: Unreadable])[] = [
  ['photo', 'picture'],
  ['video', 'picture'],
  ['video_note', 'picture'],
  ['animation', 'picture'],
  ['paid_media', 'picture'],
  ['voice', 'voice'],
  ['audio', 'voice'],
  ['document', 'other'],
  ['sticker', 'other'],
  ['location', 'other'],
  ['venue', 'other'],
  ['contact', 'other'],
  ['poll', 'other'],
  ['dice', 'other'],
  ['story', 'other'],
];

type Unknown = Readonly<Record<string, unknown>>;

function record(value: unknown): Unknown | null {
  return typeof value === 'object' && value !== null && !Array.isArray(value) ? (value as Unknown) : null;
}

function words(value: unknown): string {
  return typeof value === 'string' ? value : '';
}

/** Number of an update; null when it has none. */
export function updateIdOf(update: unknown): number | null {
  const id = record(update)?.update_id;
  return typeof id === 'number' && Number.isSafeInteger(id) ? id : null;
}

/** Who an update is from, for the order of one person's updates; null = nobody. */
export function senderOf(update: unknown): string | null {
  const of = record(update);
  const part = record(of?.message) ?? record(of?.edited_message) ?? record(of?.callback_query);
  return userOf(record(part?.from));
}

/** A person's id; bots are no persons. */
function userOf(from: Unknown | null): string | null {
  const id = from?.id;
  return typeof id === 'number' && Number.isSafeInteger(id) && id > 0 && from?.is_bot !== true ? String(id) : null;
}

/**
 * What the line should hear of an update. Null: nothing (groups, channels, bots, service messages). `bot` is the number of
 * the bot, so that the updates of two bots are never taken for the same.
 */
export function readUpdate(update: unknown, bot: string): Heard | null {
  const number = updateIdOf(update);
  const user = senderOf(update);
  const of = record(update);
  if (number === null || user === null || !of) return null;
  const from = { id: `tg:${bot}:${number}`, user };
  const tap = record(of.callback_query);
  if (tap) return readTap(tap, from);
  const message = record(of.message);
  if (message) return readMessage(message, from);
  const edited = record(of.edited_message);
  // A moving location is edited every few seconds: only changed words are worth an answer.
  if (!edited || !isPrivate(edited) || words(edited.text) === '') return null;
  return { ...from, kind: 'unreadable', why: 'edited', words: words(edited.text) };
}

function isPrivate(message: Unknown): boolean {
  return record(message.chat)?.type === 'private';
}

function readMessage(message: Unknown, from: From): Heard | null {
  if (!isPrivate(message)) return null;
  const beside = carried.find(([name]) => message[name] !== undefined);
  if (beside) {
    // Pictures sent together are several updates and one refusal.
    const album = words(message.media_group_id);
    const id = album === '' ? from.id : `${from.id.slice(0, from.id.lastIndexOf(':'))}:album:${album.slice(0, 40)}`;
    return { id, user: from.user, kind: 'unreadable', why: beside[1], words: words(message.caption) };
  }
  if (typeof message.text !== 'string') return null;
  const at = typeof message.date === 'number' && message.date > 0 ? message.date * 1000 : null;
  return { ...from, kind: 'text', text: plain(message.text), at };
}

/** A command of the menu is the same word typed: `/new@our_bot` is `new`. */
function plain(text: string): string {
  return text.replace(/^\/([a-z][a-z0-9_]*)(?:@\w+)?(?=\s|$)/i, '$1');
}

function readTap(tap: Unknown, from: From): Heard | null {
  const message = record(tap.message);
  const callback = words(tap.id);
  if (callback === '' || !message || !isPrivate(message)) return null;
  const tapped: Tapped = {
    callback,
    messageId: typeof message.message_id === 'number' ? message.message_id : null,
    markup: markupOf(message.reply_markup),
  };
  const by = carriedBy(words(tap.data));
  if (by?.kind === 'answer') return { ...from, kind: 'tap', token: by.token, reply: by.reply, tapped };
  if (by?.kind === 'toggle') return { ...from, kind: 'toggle', reply: by.reply, tapped };
  return { ...from, kind: 'idle-tap', tapped };
}

function markupOf(value: unknown): Tapped['markup'] {
  const rows = record(value)?.inline_keyboard;
  const sound =
    Array.isArray(rows) &&
    rows.every((row) => Array.isArray(row) && row.every((one) => typeof record(one)?.text === 'string'));
  return sound ? (value as Tapped['markup']) : null;
}
