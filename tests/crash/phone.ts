/** A health worker's phone that works through one case after the other. */
import type { Chance } from './chance.ts';

export interface Sent {
  readonly id: string;
  readonly text: string;
  /** Answered 2xx: from then on it must not be lost. */
  answered: boolean;
}

export interface PhoneParts {
  readonly number: string;
  readonly name: string;
  readonly chance: Chance;
  /** One delivery to the line, whichever life answers; the status, null = nobody answered. */
  deliver(from: string, id: string, text: string): Promise<number | null>;
  /** False: the clinic closes, nothing new is sent. */
  isOpen(): boolean;
}

/** After so long without a text, the worker asks for help, real ms. */
const patienceMs = 2_500;
const retryAfterMs = 15;
// No two of them are a word that the line reads as one.
const letters = 'BCDFGHJKLMNPRSTVW';

export class Phone {
  readonly sent: Sent[] = [];
  readonly codes: string[] = [];
  cases = 0;
  private readonly parts: PhoneParts;
  private readonly seen = new Set<string>();
  private readonly inbox: string[] = [];
  private wake: () => void = () => undefined;
  private code = '';

  constructor(parts: PhoneParts) {
    this.parts = parts;
  }

  get number(): string {
    return this.parts.number;
  }

  /** A text arrived; one that came before is the same text. */
  receive(id: string, text: string): void {
    if (this.seen.has(id)) return;
    this.seen.add(id);
    this.inbox.push(text);
    this.wake();
  }

  /** Lets go whoever waits, so that the clinic can close. */
  close(): void {
    this.wake();
  }

  async work(): Promise<void> {
    await this.send(this.begin());
    while (this.parts.isOpen()) {
      const text = await this.next();
      if (!this.parts.isOpen()) return;
      const reply = text === null ? '?' : this.replyTo(text);
      if (reply !== null) await this.send(reply);
    }
  }

  private async next(): Promise<string | null> {
    if (this.inbox.length === 0) {
      let timer: NodeJS.Timeout | undefined;
      await new Promise<void>((resolve) => {
        this.wake = resolve;
        timer = setTimeout(resolve, patienceMs);
      });
      clearTimeout(timer);
      this.wake = () => undefined;
    }
    return this.inbox.shift() ?? null;
  }

  /** The gateway delivers until it is answered 2xx, and now and then once more. */
  private async send(text: string): Promise<void> {
    const one: Sent = { id: `${this.parts.name}-${this.sent.length}`, text, answered: false };
    this.sent.push(one);
    const once = () => this.parts.deliver(this.parts.number, one.id, text);
    for (;;) {
      const status = await once();
      if (status !== null && status >= 200 && status < 300) break;
      if (!this.parts.isOpen()) return;
      await new Promise((resolve) => setTimeout(resolve, retryAfterMs));
    }
    one.answered = true;
    if (this.parts.chance.below(10) === 0) await once();
  }

  private begin(): string {
    this.cases += 1;
    this.code = '';
    const { chance } = this.parts;
    const initials = [0, 1].map(() => letters[chance.below(letters.length)]).join('');
    return `NEW ${initials} ${1950 + chance.below(45)} F R 22x15x14 solid hypo irregular micro TSH normal felt linear signs 0 risks 0 bleeding 0`;
  }

  /** What a worker answers; null = nothing is asked. */
  private replyTo(text: string): string | null {
    const issued = /CODE (\d{4}) (\d{4})\. Write in pencil/.exec(text);
    if (issued) {
      this.code = `${issued[1]}${issued[2]}`;
      this.codes.push(this.code);
      return this.code;
    }
    const replies: readonly (readonly [RegExp, string])[] = [
      [/All right\? Send OK/, 'OK'],
      [/1 now 2 another day/, '1'],
      [/what do you have\?/, '1357H'],
      [/is all done\? Send ALL/, 'ALL'],
      [/does one of these stop you\?/, '50'],
      [/When the slides are fixed, send: 11 /, '11'],
      [/one digit for EACH slide/i, '6666'],
      [/at what time did the last slide/, '9'],
      [/1 the same 2 NOT/, '1'],
      [/7 written 8 not yet/, '7'],
      [/1 closed 2 it leaks/, '1'],
      [/3 all well 4 something/, '3'],
      [/5 yes 6 not yet/, '5'],
    ];
    const found = replies.find(([asked]) => asked.test(text));
    if (found) return found[1];
    if (/gone: POST/.test(text) && this.code !== '') return `POST ${this.code}`;
    if (/^POSTED /.test(text)) return this.begin();
    return null;
  }
}
