/** Sends the line's texts as Telegram messages: the same words, with buttons under a question that has choices. */
import type { Api } from 'grammy';
import { backoffMs } from '../../line/backoff.ts';
import type { Channel, Log, OutboundMessage, SendResult, Steady } from '../../line/ports.ts';
import { type Fault, faultOf } from './api.ts';
import { buttonsOf } from './buttons.ts';
import { Pace } from './pace.ts';
import { splitText } from './split.ts';

export interface ChannelParts {
  readonly api: Api;
  readonly steady: Steady;
  readonly log: Log;
  /** For how long no update could be had, ms; null = they can. Absent: nobody asks for any. */
  readonly deafMs?: () => number | null;
}

/** First and longest pause after Telegram itself failed, ms. */
const firstPauseMs = 2_000;
const longestPauseMs = 60_000;

/** Texts of which the first parts went out and the rest did not: remembered so that no part comes twice. */
const mostHalfSent = 100;

/** Characters of one message, and of the words under a photo (Bot API, sendMessage and sendPhoto). */
const textAtMost = 4096;
const captionAtMost = 1024;

/** One message of a text. */
interface Part {
  readonly text: string;
  /** Name of a photo that the words stand under. */
  readonly picture: string | null;
  readonly buttons: ReturnType<typeof buttonsOf>;
}

/** A photo comes with the first words, buttons with the last. */
function partsOf({ text, picture: file, ask }: OutboundMessage): readonly Part[] {
  const picture = file ?? null;
  const texts = splitText(text, picture === null ? textAtMost : captionAtMost);
  return texts.map((words, at) => ({
    text: words,
    picture: at === 0 ? picture : null,
    buttons: at === texts.length - 1 ? buttonsOf(ask) : null,
  }));
}

export class TelegramChannel implements Channel {
  readonly name = 'telegram';
  readonly maxText = textAtMost;
  readonly buttons = true;
  readonly images = true;
  readonly reports = false;
  private readonly parts: ChannelParts;
  private readonly pace = new Pace();
  private readonly halfSent = new Map<string, number>();
  private failures = 0;

  constructor(parts: ChannelParts) {
    this.parts = parts;
  }

  deafMs(): number | null {
    return this.parts.deafMs?.() ?? null;
  }

  async send(message: OutboundMessage): Promise<SendResult> {
    const chat = message.to.address;
    if (!/^\d{1,16}$/.test(chat)) return { kind: 'refused', why: 'bad-address' };
    const parts = partsOf(message);
    if (parts.length === 0) return { kind: 'refused', why: 'empty' };
    let providerId: string | undefined;
    for (let at = this.halfSent.get(message.id) ?? 0; at < parts.length; at += 1) {
      const now = this.parts.steady();
      const free = this.pace.take(chat, message.lane === 'sos', now);
      const result: SendResult =
        free === null
          ? await this.sendPart(message, chat, parts[at]!)
          : { kind: 'later', waitMs: free - now, why: 'pace' };
      if (result.kind !== 'sent') {
        this.keepHalf(message.id, at, result);
        return result;
      }
      providerId = result.providerId ?? providerId;
    }
    this.halfSent.delete(message.id);
    this.failures = 0;
    return providerId === undefined ? { kind: 'sent' } : { kind: 'sent', providerId };
  }

  private async sendPart(message: OutboundMessage, chat: string, part: Part): Promise<SendResult> {
    try {
      return await this.call(chat, part);
    } catch (error) {
      const fault = faultOf(error);
      if (part.buttons === null || fault.kind !== 'refused') return this.resultOf(fault, chat);
      // Whatever Telegram has against the buttons, the text is what matters: its digits can be typed.
      this.parts.log.write('warn', 'telegram-buttons-refused', { message: message.id, code: String(fault.status) });
      const bare = { ...part, buttons: null };
      return this.call(chat, bare).catch((again: unknown) => this.resultOf(faultOf(again), chat));
    }
  }

  private async call(chat: string, { text, picture, buttons }: Part): Promise<SendResult> {
    const { api } = this.parts;
    const markup = buttons ? { reply_markup: buttons } : {};
    const sent =
      picture === null
        ? await api.sendMessage(chat, text, { link_preview_options: { is_disabled: true }, ...markup })
        : // Cannot be passed on or saved by the app.
          await api.sendPhoto(chat, picture, { caption: text, protect_content: true, ...markup });
    return { kind: 'sent', providerId: String(sent.message_id) };
  }

  private resultOf(fault: Fault, chat: string): SendResult {
    const now = this.parts.steady();
    switch (fault.kind) {
      case 'flood':
        this.pace.pause(chat, now + fault.waitMs, now);
        return { kind: 'later', waitMs: fault.waitMs, why: 'flood' };
      case 'unreachable':
        return { kind: 'refused', why: fault.why };
      case 'refused':
        return { kind: 'refused', why: `telegram-${fault.status}` };
      case 'no-answer':
        return { kind: 'unsure', why: 'no-answer' };
      case 'server':
      case 'not-sent':
        return { kind: 'later', waitMs: this.nextPause(), why: fault.kind };
      case 'token':
      case 'conflict':
        // The text is sound, the line is not: it waits until the operator has put that right.
        return { kind: 'later', waitMs: longestPauseMs, why: fault.kind };
    }
  }

  private nextPause(): number {
    this.failures += 1;
    return backoffMs(this.failures, firstPauseMs, longestPauseMs);
  }

  private keepHalf(id: string, sent: number, result: SendResult): void {
    this.halfSent.delete(id);
    if (sent > 0 && result.kind === 'later' && this.halfSent.size < mostHalfSent) this.halfSent.set(id, sent);
  }
}
