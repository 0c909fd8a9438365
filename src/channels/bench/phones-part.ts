/** The phones: who has one, what they write, and their net. */
import { randomBytes } from 'node:crypto';
import type { Line } from '../../line/line.ts';
import { countSegments } from '../../text/segments.ts';
import type { BenchChannel } from './channel.ts';
import type { BenchClock } from './clock.ts';
import { type Answer, type Asked, type BenchPart, ok, refused, type Tell } from './part.ts';
import { peopleOf } from './people.ts';

/** Longest text taken, characters. The line itself answers long ones with a hint. */
const textAtMost = 10_000;
const addressForm = /^bench:[a-z0-9-]{1,40}$/;

export interface PhonesOptions {
  readonly line: Line;
  readonly clock: BenchClock;
  readonly channel: BenchChannel;
  readonly nudge: () => void;
  readonly tell: Tell;
}

interface Message {
  readonly id: string;
  readonly text: string;
}

export class PhonesPart implements BenchPart {
  readonly post = {
    '/send': (asked: Asked) => this.onPhone(asked, (address, body) => this.sendText(address, body)),
    '/net': (asked: Asked) => this.onPhone(asked, (address, body) => this.setNet(address, body.on === true)),
  };
  private readonly options: PhonesOptions;
  /** The last text of each phone, to send it again. */
  private readonly sent = new Map<string, Message>();
  private readonly stopListening: () => void;

  constructor(options: PhonesOptions) {
    this.options = options;
    this.stopListening = options.channel.listen((arrived) => options.tell('text', arrived));
  }

  async end(): Promise<void> {
    this.stopListening();
  }

  private async onPhone(
    { body }: Asked,
    act: (address: string, body: Asked['body']) => Promise<Answer>,
  ): Promise<Answer> {
    const { address } = body;
    const hasPhone = typeof address === 'string' && addressForm.test(address);
    return hasPhone ? act(address, body) : refused(400, 'Which phone?');
  }

  private async sendText(address: string, wanted: Asked['body']): Promise<Answer> {
    const { channel, clock } = this.options;
    const again = wanted.again === true;
    const message = again ? await this.lastOf(address) : newMessage(wanted.text);
    if (!message) {
      const error = again ? 'Nothing was sent from this phone yet.' : `A text of at most ${textAtMost} characters.`;
      return refused(again ? 409 : 400, error);
    }
    this.sent.set(address, message);
    const at = clock.now();
    let handled: string = 'held';
    try {
      await channel.carry({
        address,
        ...message,
        out: false,
        at,
        deliver: async () => {
          handled = await this.hear(address, message, at);
        },
      });
    } catch {
      return refused(503, 'The line could not store this. Send it again.');
    }
    return ok({ id: message.id, at, handled });
  }

  /** Throws when the text is not stored. */
  private async hear(address: string, message: Message, at: number): Promise<string> {
    const { line, clock, channel, nudge } = this.options;
    const handled = await line.hearText({ channel: channel.name, address }, message.id, message.text, at);
    if (handled === 'failed') throw new Error('not stored');
    if (handled !== 'duplicate') {
      const { segments } = countSegments(message.text);
      const [now, urgency] = [clock.now(), 'plain'] as const;
      channel.tell({ address, ...message, out: false, at: now, segments, urgency, asks: null });
    }
    nudge();
    return handled;
  }

  /** The last text of a phone, also from before a restart. */
  private async lastOf(address: string): Promise<Message | null> {
    const known = this.sent.get(address);
    if (known) return known;
    const { line, channel } = this.options;
    const person = (await peopleOf(line, channel)).find((one) => one.address === address);
    return person?.texts.findLast((one) => !one.out) ?? null;
  }

  private async setNet(address: string, on: boolean): Promise<Answer> {
    const { channel, nudge, tell } = this.options;
    try {
      await channel.setNet(address, on);
    } catch {
      return refused(503, 'The line could not store what waited. Switch the net on again.');
    }
    nudge();
    tell('net', { address, on: channel.hasNet(address) });
    return ok({ net: channel.hasNet(address) });
  }
}

function newMessage(text: unknown): Message | null {
  if (typeof text !== 'string' || text.length > textAtMost) return null;
  return { id: `bench:${randomBytes(9).toString('base64url')}`, text };
}
