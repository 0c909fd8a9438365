import type { Channel, Clock, OutboundMessage, SendResult } from '../../line/ports.ts';

/** What the page is told of a text that reached a simulated phone, or left it for the line (`out` false). */
export interface Arrived {
  readonly address: string;
  readonly id: string;
  readonly out: boolean;
  readonly at: number;
  readonly text: string;
  readonly segments: number;
  readonly options: readonly Choice[];
}

/** One answer of the question that a text asks. */
export interface Choice {
  readonly reply: string;
  readonly label: string;
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
  private readonly off = new Set<string>();
  private readonly waiting: Waiting[] = [];
  private readonly lastOptions = new Map<string, readonly Choice[]>();

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
    const options = (message.ask?.options ?? []).map(({ reply, label }) => ({ reply, label }));
    // A text that asks nothing leaves the open question as it is.
    if (options.length > 0) this.lastOptions.set(address, options);
    const at = this.clock.now();
    this.tell({ address, id: message.id, out: true, at, text: message.text, segments: message.segments, options });
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

  /** Answers of the last question that reached this phone since the start; none once the phone wrote after it. */
  optionsOf(address: string): readonly Choice[] {
    return this.lastOptions.get(address) ?? [];
  }

  /** The phone wrote: its question is no longer the last word. */
  forgetOptions(address: string): void {
    this.lastOptions.delete(address);
  }
}
