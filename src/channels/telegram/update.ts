/** What came from Telegram, read without trust: whoever knows the webhook's secret could send anything. */
import type { Message } from 'grammy/types';
import type { SentPicture, Unreadable } from '../../conversation/event.ts';
import { saysSos } from '../../conversation/hearing/sos-spelling.ts';
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

/** What came beside the words: a photo, the mark that all pictures of one album have. */
interface Beside {
  readonly picture?: SentPicture;
  readonly album?: string;
}

export type Heard =
  /** `quoted`: the message of the bot's that it is a reply to; null = none. */
  | (From & {
      readonly kind: 'text';
      readonly text: string;
      readonly at: number | null;
      readonly quoted: string | null;
    })
  /** No text of its own; `words`: its caption, or the changed or passed on words. */
  | (From & {
      readonly kind: 'unreadable';
      readonly why: Unreadable;
      readonly words: string;
      readonly beside: Beside;
    })
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
  ['checklist', 'other'],
  ['game', 'other'],
  ['invoice', 'other'],
  ['giveaway', 'other'],
];

/** What marks a message as passed on from somewhere, in this and in older versions of the interface. */
const forwardMarks = ['forward_origin', 'forward_date', 'forward_from', 'forward_from_chat', 'forward_sender_name'];

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

/** True for an update that calls for help, by words, under a picture, or by a button: it is taken before all others. */
export function callsForHelp(update: unknown): boolean {
  const of = record(update);
  const message = record(of?.message) ?? record(of?.edited_message);
  const carries = [message?.text, message?.caption, carriedReply(words(record(of?.callback_query)?.data))];
  return carries.some((one) => saysSos(words(one)));
}

function carriedReply(data: string): string {
  const by = carriedBy(data);
  return by?.kind === 'answer' ? by.reply : '';
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
  if (!edited || !isPrivate(edited, from) || words(edited.text) === '') return null;
  return { ...from, kind: 'unreadable', why: 'edited', words: words(edited.text), beside: {} };
}

/** True for a person's own chat with the bot, whose number is theirs. */
function isPrivate(message: Unknown, { user }: From): boolean {
  const chat = record(message.chat);
  return chat?.type === 'private' && String(chat.id) === user;
}

function readMessage(message: Unknown, from: From): Heard | null {
  if (!isPrivate(message, from)) return null;
  const beside = carried.find(([name]) => message[name] !== undefined);
  if (beside) {
    const album = words(message.media_group_id).slice(0, 40);
    const file = largestOf(message.photo);
    return {
      ...from,
      kind: 'unreadable',
      why: beside[1],
      words: words(message.caption),
      beside: { ...(file === null ? {} : { picture: { file } }), ...(album === '' ? {} : { album }) },
    };
  }
  if (typeof message.text !== 'string') return null;
  // Somebody else's words, or older ones: no answer to anything.
  if (forwardMarks.some((name) => message[name] !== undefined)) {
    return { ...from, kind: 'unreadable', why: 'forwarded', words: message.text, beside: {} };
  }
  const at = typeof message.date === 'number' && message.date > 0 ? message.date * 1000 : null;
  return { ...from, kind: 'text', text: plain(message.text), at, quoted: quotedIn(message) };
}

/** Number of the bot's message that this one is a reply to; one's own messages are no questions. */
function quotedIn(message: Unknown): string | null {
  const quoted = record(message.reply_to_message);
  const id = quoted?.message_id;
  return record(quoted?.from)?.is_bot === true && Number.isSafeInteger(id) ? String(id) : null;
}

/** A photo comes in several sizes: the name of the largest, by which it can be sent on without being fetched. */
function largestOf(photo: unknown): string | null {
  const sizes = Array.isArray(photo) ? photo.map(record).filter((one) => one !== null) : [];
  const sound = sizes.filter((one) => /^[\w-]{1,250}$/.test(words(one.file_id)));
  const pixels = (one: Unknown): number => Number(one.width) * Number(one.height) || 0;
  const [largest] = sound.sort((a, b) => pixels(b) - pixels(a));
  return largest ? words(largest.file_id) : null;
}

/** A command of the menu is the same word typed: `/new@our_bot` is `new`. */
function plain(text: string): string {
  return text.replace(/^\/([a-z][a-z0-9_]*)(?:@\w+)?(?=\s|$)/i, '$1');
}

function readTap(tap: Unknown, from: From): Heard | null {
  const message = record(tap.message);
  const callback = words(tap.id);
  if (callback === '' || !message || !isPrivate(message, from)) return null;
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
