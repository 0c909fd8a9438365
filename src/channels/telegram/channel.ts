/** Sends the line's texts as Telegram messages: the same words, with buttons under a question that has choices. */
import type { Api } from 'grammy';
import type { Channel, Clock, Log, OutboundMessage, SendResult } from '../../line/ports.ts';
import { type Fault, faultOf } from './api.ts';
import { buttonsOf } from './buttons.ts';
import { Pace } from './pace.ts';
import { splitText } from './split.ts';

export interface ChannelParts {
  readonly api: Api;
  readonly clock: Clock;
  readonly log: Log;
}

/** First and longest pause after Telegram itself failed, ms. */
const firstPauseMs = 2_000;
const longestPauseMs = 60_000;

/** Texts of which the first parts went out and the rest did not: remembered so that no part comes twice. */
const mostHalfSent = 100;

export class TelegramChannel implements Channel {
  readonly name = 'telegram';
  /** Characters of one message (Bot API, sendMessage). */
  readonly maxText = 4096;
  readonly buttons = true;
  readonly images = false;
  readonly reports = false;
  private readonly parts: ChannelParts;
  private readonly pace = new Pace();
  private readonly halfSent = new Map<string, number>();
  private failures = 0;

  constructor(parts: ChannelParts) {
    this.parts = parts;
  }

  async send(message: OutboundMessage): Promise<SendResult> {
    const chat = message.to.address;
    if (!/^\d{1,16}$/.test(chat)) return { kind: 'refused', why: 'bad-address' };
    const texts = splitText(message.text, this.maxText);
    if (texts.length === 0) return { kind: 'refused', why: 'empty' };
    let providerId: string | undefined;
    for (let at = this.halfSent.get(message.id) ?? 0; at < texts.length; at += 1) {
      const now = this.parts.clock.now();
      const free = this.pace.take(chat, message.lane === 'sos', now);
      const result: SendResult =
        free === null
          ? await this.sendPart(message, chat, texts[at]!, at === texts.length - 1)
          : { kind: 'later', notBefore: free, why: 'pace' };
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

  private async sendPart(message: OutboundMessage, chat: string, text: string, last: boolean): Promise<SendResult> {
    const buttons = last ? buttonsOf(message.ask) : null;
    try {
      return await this.call(chat, text, buttons);
    } catch (error) {
      const fault = faultOf(error);
      if (buttons === null || fault.kind !== 'refused') return this.resultOf(fault, chat);
      // Whatever Telegram has against the buttons, the text is what matters: its digits can be typed.
      this.parts.log.write('warn', 'telegram-buttons-refused', { message: message.id, code: String(fault.status) });
      return this.call(chat, text, null).catch((again: unknown) => this.resultOf(faultOf(again), chat));
    }
  }

  private async call(chat: string, text: string, buttons: ReturnType<typeof buttonsOf>): Promise<SendResult> {
    const sent = await this.parts.api.sendMessage(chat, text, {
      link_preview_options: { is_disabled: true },
      ...(buttons ? { reply_markup: buttons } : {}),
    });
    return { kind: 'sent', providerId: String(sent.message_id) };
  }

  private resultOf(fault: Fault, chat: string): SendResult {
    const now = this.parts.clock.now();
    switch (fault.kind) {
      case 'flood':
        this.pace.pause(chat, now + fault.waitMs, now);
        return { kind: 'later', notBefore: now + fault.waitMs, why: 'flood' };
      case 'unreachable':
        return { kind: 'refused', why: fault.why };
      case 'refused':
        return { kind: 'refused', why: `telegram-${fault.status}` };
      case 'no-answer':
        return { kind: 'unsure', why: 'no-answer' };
      case 'server':
      case 'not-sent':
        return { kind: 'later', notBefore: now + this.nextPause(), why: fault.kind };
      case 'token':
      case 'conflict':
        // The text is sound, the line is not: it waits until the operator has put that right.
        return { kind: 'later', notBefore: now + longestPauseMs, why: fault.kind };
    }
  }

  private nextPause(): number {
    this.failures = Math.min(this.failures + 1, 10);
    return Math.min(longestPauseMs, firstPauseMs * 2 ** (this.failures - 1));
  }

  private keepHalf(id: string, sent: number, result: SendResult): void {
    this.halfSent.delete(id);
    if (sent > 0 && result.kind === 'later' && this.halfSent.size < mostHalfSent) this.halfSent.set(id, sent);
  }
}
