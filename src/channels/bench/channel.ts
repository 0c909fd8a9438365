import type { Channel, Clock, OutboundMessage, SendResult } from '../../line/ports.ts';
import { type Urgency, urgencyOf } from './urgency.ts';

/** What the page is told of a text that reached a simulated phone, or left it for the line (`out` false). */
export interface Arrived {
  readonly address: string;
  readonly id: string;
  readonly out: boolean;
  readonly at: number;
  readonly text: string;
  readonly segments: number;
  readonly urgency: Urgency;
  /** Of a text that asks something, the name of its question (`ask-token.ts`); else null. */
  readonly asks: string | null;
}

/** A text that waits for the net of its phone. */
export interface Waiting {
  readonly address: string;
  readonly id: string;
  readonly out: boolean;
  readonly at: number;
  readonly text: string;
  /** Throws when it could not be delivered; then it waits on. */
  deliver(): Promise<void>;
}

/** Pause between handing a text over and its delivery report, ms of real time: as on a network, the report is later. */
const reportAfterMs = 20;

/**
 * Simulated phones and their network. While the net of a phone is off its texts wait in the network, both
 * directions, in order. What waits is lost when the process ends: a text of the line is in the history all the same.
 */
export class BenchChannel implements Channel {
  readonly name = 'bench';
  readonly maxText = 0;
  readonly buttons = false;
  readonly images = false;
  readonly reports = true;
  private readonly clock: Clock;
  private readonly report: (id: string, at: number) => Promise<unknown>;
  private readonly listeners = new Set<(arrived: Arrived) => void>();
  private readonly readers = new Set<(message: OutboundMessage) => void>();
  private readonly off = new Set<string>();
  private readonly waiting: Waiting[] = [];

  /** `report` is called when a text is on its phone. */
  constructor(report: (id: string, at: number) => Promise<unknown>, clock: Clock) {
    this.report = report;
    this.clock = clock;
  }

  async send(message: OutboundMessage): Promise<SendResult> {
    const { id, text } = message;
    const { address } = message.to;
    await this.carry({ address, id, out: true, at: this.clock.now(), text, deliver: async () => this.arrive(message) });
    return { kind: 'sent' };
  }

  private arrive(message: OutboundMessage): void {
    const { address } = message.to;
    for (const reader of this.readers) reader(message);
    const { id, text, segments, ask } = message;
    const [at, urgency] = [this.clock.now(), urgencyOf(message)];
    this.tell({ address, id, out: true, at, text, segments, urgency, asks: ask?.token ?? null });
    setTimeout(() => void this.report(message.id, this.clock.now()).catch(() => undefined), reportAfterMs).unref();
  }

  /** Tells every page. */
  tell(arrived: Arrived): void {
    for (const listener of this.listeners) listener(arrived);
  }

  /** Calls back for each text that arrives; returns the way to end it. */
  listen(listener: (arrived: Arrived) => void): () => void {
    this.listeners.add(listener);
    return () => this.listeners.delete(listener);
  }

  /** Calls back with each text of the line as it is on its phone; returns the way to end it. */
  read(reader: (message: OutboundMessage) => void): () => void {
    this.readers.add(reader);
    return () => this.readers.delete(reader);
  }

  /** Delivers now, or when the net of that phone is back. */
  async carry(one: Waiting): Promise<void> {
    if (this.off.has(one.address)) this.waiting.push(one);
    else await one.deliver();
  }

  /**
   * Takes the net of a phone away or brings it back. Bringing it back delivers what waited, in order; when a text
   * cannot be delivered, the net stays off and this throws.
   */
  async setNet(address: string, on: boolean): Promise<void> {
    if (!on) {
      this.off.add(address);
      return;
    }
    for (let next = this.firstFor(address); next; next = this.firstFor(address)) {
      await next.deliver();
      const place = this.waiting.indexOf(next);
      if (place >= 0) this.waiting.splice(place, 1);
    }
    this.off.delete(address);
  }

  private firstFor(address: string): Waiting | undefined {
    return this.waiting.find((one) => one.address === address);
  }

  hasNet(address: string): boolean {
    return !this.off.has(address);
  }

  /** What waits for the net of this phone, oldest first. */
  waitingFor(address: string): readonly Waiting[] {
    return this.waiting.filter((one) => one.address === address);
  }
}
