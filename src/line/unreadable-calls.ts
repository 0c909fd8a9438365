/** Calls of a gateway that could not be read, and texts from numbers that cannot be answered: people must hear of them. */
import { Tally } from './tally.ts';
import { type TellParts, tellTrouble } from './tell-change.ts';
import { linkName } from './watch.ts';

/** Shortest time between two alarms about the same call, which its gateway brings again and again, ms. Our convention. */
const alarmEveryMs = 3_600_000;

/** What is known of a call that could not be read. */
export interface SeenCall {
  /** SOS can be seen in it. */
  readonly sos: boolean;
  /** Numbers that can be seen in it, one of them perhaps the sender's. */
  readonly numbers: readonly string[];
  /** The same for the same call come again. */
  readonly mark: string;
}

export class UnreadableCalls {
  private readonly parts: TellParts;
  private readonly channel: string;
  private readonly calls: Tally;
  private readonly senders: Tally;
  private count = 0;
  private lastAt: number | null = null;

  constructor(parts: TellParts, channel: string) {
    this.parts = parts;
    this.channel = channel;
    this.calls = new Tally(parts, `unreadable:${channel}`, 'calls-unreadable');
    this.senders = new Tally(parts, `unknown-form:${channel}`, 'senders-unreadable');
  }

  /** Counts a call and tells the coordinators, of an SOS in it at once. False: they could not be told. */
  async note(call: SeenCall): Promise<boolean> {
    const now = this.parts.clock.now();
    this.count += 1;
    this.lastAt = now;
    const alarmed = !call.sos || (await this.alarm(call, now));
    const told = await this.calls.note(call.mark, { link: linkName(this.channel) });
    return alarmed && told;
  }

  /** A text was heard from a number without its country. */
  noteSender(from: string): Promise<boolean> {
    return this.senders.note(from, { link: linkName(this.channel), from });
  }

  /** Tells what gathered within the last hour. */
  async look(): Promise<void> {
    await this.calls.look();
    await this.senders.look();
  }

  /** Calls since the start, each repetition counted, and when the last one came; null = none. */
  facts(): { readonly count: number; readonly lastAt: number | null } {
    return { count: this.count, lastAt: this.lastAt };
  }

  private alarm(call: SeenCall, now: number): Promise<boolean> {
    const id = `trouble:unreadable-sos:${this.channel}:${call.mark}:${Math.floor(now / alarmEveryMs)}`;
    const from = call.numbers.join(', ');
    const key = from === '' ? 'calls-unreadable-sos-nobody' : 'calls-unreadable-sos';
    return tellTrouble(this.parts, id, { key, vars: { from }, lane: 'sos' });
  }
}
