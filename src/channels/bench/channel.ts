import type { Channel, Clock, OutboundMessage, SendResult } from '../../line/ports.ts';

/** What the page is told of a text that reached a simulated phone. */
export interface Arrived {
  readonly address: string;
  readonly id: string;
  readonly at: number;
  readonly text: string;
  readonly segments: number;
  readonly encoding: string;
  readonly options: readonly { readonly reply: string; readonly label: string }[];
}

/** Pause before a phone without net is tried again, ms. */
const noNetPauseMs = 5000;

/** Simulated phones. A phone whose net is off gets nothing; its texts wait in the outbox. */
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

  /** `report` is called when a text is on its phone. */
  constructor(report: (id: string, at: number) => Promise<unknown>, clock: Clock) {
    this.report = report;
    this.clock = clock;
  }

  async send(message: OutboundMessage): Promise<SendResult> {
    const { address } = message.to;
    if (this.off.has(address)) {
      return { kind: 'later', notBefore: this.clock.now() + noNetPauseMs, why: 'no-net' };
    }
    const arrived: Arrived = {
      address,
      id: message.id,
      at: this.clock.now(),
      text: message.text,
      segments: message.segments,
      encoding: message.encoding,
      options: (message.ask?.options ?? []).map(({ reply, label }) => ({ reply, label })),
    };
    for (const listener of this.listeners) listener(arrived);
    // The report comes after the line has noted that it handed the text over, as on a network.
    setTimeout(() => void this.report(message.id, this.clock.now()).catch(() => undefined), 20).unref();
    return { kind: 'sent' };
  }

  /** Calls back for each text that arrives; returns the way to end it. */
  listen(listener: (arrived: Arrived) => void): () => void {
    this.listeners.add(listener);
    return () => this.listeners.delete(listener);
  }

  setNet(address: string, on: boolean): void {
    if (on) this.off.delete(address);
    else this.off.add(address);
  }

  hasNet(address: string): boolean {
    return !this.off.has(address);
  }
}
