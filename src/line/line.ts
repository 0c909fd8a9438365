/** The whole line over one store: used by the service, the phone bench and `play` alike. There is no second path. */
import type { Content } from '../conversation/content.ts';
import type { LineEvent } from '../conversation/event.ts';
import type { Registry } from '../conversation/moment.ts';
import type { Address } from '../conversation/world.ts';
import { runOutbox } from './deliver.ts';
import { Digests } from './digests.ts';
import { type Handled, Handler } from './handle.ts';
import type { Channel, Clock, Log, Random, Store } from './ports.ts';
import { runDue } from './wake.ts';

export interface LineOptions {
  readonly store: Store;
  readonly content: Content;
  readonly registry: Registry;
  readonly clock: Clock;
  readonly random: Random;
  readonly log: Log;
  /** By the channel name that addresses carry. */
  readonly channels: ReadonlyMap<string, Channel>;
}

export class Line {
  readonly store: Store;
  readonly options: LineOptions;
  private readonly handler: Handler;
  private readonly digests: Digests;
  private settling: Promise<void> = Promise.resolve();

  constructor(options: LineOptions) {
    this.options = options;
    this.store = options.store;
    this.handler = new Handler(options);
    this.digests = new Digests(options.content.programme, options.store);
  }

  /** A text that a channel received. Resolves once it is durable: only then may the channel answer its provider. */
  hearText(
    from: Address,
    id: string,
    text: string,
    networkAt: number | null,
    moreKeys: readonly string[] = [],
  ): Promise<Handled> {
    return this.handler.handle({ ...this.base(id, moreKeys), kind: 'text', from, text, networkAt });
  }

  /** A tap on a button. */
  hearTap(from: Address, id: string, token: string, reply: string): Promise<Handled> {
    return this.handler.handle({ ...this.base(id, []), kind: 'tap', from, token, reply });
  }

  private base(
    id: string,
    moreKeys: readonly string[],
  ): Pick<LineEvent, 'id' | 'programmeId' | 'keys' | 'at' | 'seed'> {
    return {
      id,
      programmeId: this.options.content.programme.id,
      keys: [id, ...moreKeys],
      at: this.options.clock.now(),
      seed: this.options.random.bytes(16),
    };
  }

  /**
   * Handles what is due, sends what may go, until nothing is left for this instant. Returns the next instant, or null.
   * Calls come one after the other.
   */
  settle(): Promise<number | null> {
    const settled = this.settling.then(() => this.settleNow());
    this.settling = settled.then(
      () => undefined,
      () => undefined,
    );
    return settled;
  }

  private async settleNow(): Promise<number | null> {
    const { store, clock } = this.options;
    for (;;) {
      await this.handler.idle();
      const now = clock.now();
      const dueAt = await runDue({ ...this.options, handler: this.handler, digests: this.digests }, now);
      const sent = await runOutbox(this.options);
      const outAt = await store.nextOutboxAt();
      const dueAgain = await store.nextDueAt();
      const next = [dueAt, outAt, dueAgain].filter((one): one is number => one !== null);
      if (sent === 0 && !next.some((one) => one <= now)) return next.length === 0 ? null : Math.min(...next);
      if (sent === 0 && next.every((one) => one > now || one === dueAt)) return Math.min(...next);
    }
  }

  /** Resolves when no event is being handled. */
  idle(): Promise<void> {
    return this.handler.idle();
  }
}
