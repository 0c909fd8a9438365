/** Which gateway a text goes by, where there are two, and which one takes over. */
import type { Channel, OutboundMessage, SendResult } from '../../line/ports.ts';
import type { Way } from '../../line/way.ts';
import type { Prefixes } from './addresses.ts';
import { byAnswer, type SmsChannel } from './channel.ts';

/** One gateway and the numbers that go by it first; an empty list = all that no other one is named for. */
export interface Route {
  readonly gateway: SmsChannel;
  readonly first: Prefixes;
}

/** A gateway that took nothing for so long is down: its texts go by the other one. Our convention, ms. */
export const downAfterMs = 30_000;
/** One text tries a gateway that is down again, so often. Our convention, ms. */
const tryEveryMs = 30_000;

/**
 * All SMS of the line. A text goes by the gateway whose prefix fits its number best. By the other one it goes only when it
 * is certain that the first did not take it: refused, or not reached; with an SOS at once, with all else once the first is
 * down. Whoever may have taken a text has it: nothing goes by both.
 */
export class SmsRoutes implements Channel {
  readonly name = 'sms';
  readonly maxText = 0;
  readonly buttons = false;
  readonly images = false;
  readonly reports = true;
  readonly prepaid = true;
  private readonly routes: readonly Route[];
  private readonly trying = new Set<SmsChannel>();

  /** At least one; the first is the one for numbers that no prefix names. */
  constructor(routes: readonly Route[]) {
    this.routes = routes;
  }

  clockOffsetMs(): number | null {
    const offsets = this.routes.map(({ gateway }) => gateway.clockOffsetMs()).filter((one) => one !== null);
    return offsets.reduce<number | null>(
      (worst, one) => (Math.abs(one) > Math.abs(worst ?? 0) ? one : (worst ?? one)),
      null,
    );
  }

  room(): { readonly free: number; readonly waitMs: number } {
    const all = this.routes.map(({ gateway }) => gateway.room());
    return {
      free: all.reduce((sum, { free }) => sum + free, 0),
      waitMs: Math.min(...all.map(({ waitMs }) => waitMs)),
    };
  }

  isDayFull(message: OutboundMessage): boolean {
    return this.homeOf(message.to.address).isDayFull();
  }

  ways(): readonly Way[] {
    return this.routes.map(({ gateway }) => gateway.way(this.isDown(gateway)));
  }

  restoreDay(way: string, day: string, segments: number): void {
    for (const { gateway } of this.routes) {
      if (gateway.way(false).name === way) gateway.restoreDay(way, day, segments);
    }
  }

  async send(message: OutboundMessage): Promise<SendResult> {
    const home = this.homeOf(message.to.address);
    const other = this.routes.find(({ gateway }) => gateway !== home)?.gateway;
    if (!other) return home.send(message);
    const isUrgent = message.lane === 'sos';
    const first = this.isTried(home, isUrgent) ? await this.tryBy(home, message) : notTried;
    if (!this.passesOn(home, first, isUrgent)) return first;
    const second = await other.send(message);
    // Neither takes it: an SOS is not held back by what was true of the first a while ago.
    if (first === notTried && second.kind === 'later' && isUrgent) return home.send(message);
    // What the other refuses may be none of its numbers: the first may be back.
    return second.kind === 'refused' ? first : second;
  }

  private homeOf(address: string): SmsChannel {
    const fits = this.routes.flatMap(({ gateway, first }) =>
      first.filter((prefix) => address.startsWith(prefix)).map((prefix) => ({ gateway, length: prefix.length })),
    );
    const best = fits.reduce<(typeof fits)[number] | null>(
      (longest, one) => (one.length > (longest?.length ?? 0) ? one : longest),
      null,
    );
    return best?.gateway ?? this.routes[0]!.gateway;
  }

  private isDown(gateway: SmsChannel): boolean {
    return gateway.failsForMs() >= downAfterMs;
  }

  /** One that is down is tried by one text at a time now and then, never by an SOS. */
  private isTried(gateway: SmsChannel, isUrgent: boolean): boolean {
    if (!this.isDown(gateway)) return true;
    return !isUrgent && !this.trying.has(gateway) && gateway.failedAgoMs() >= tryEveryMs;
  }

  private async tryBy(gateway: SmsChannel, message: OutboundMessage): Promise<SendResult> {
    if (!this.isDown(gateway)) return gateway.send(message);
    this.trying.add(gateway);
    return gateway.send(message).finally(() => this.trying.delete(gateway));
  }

  private passesOn(home: SmsChannel, result: SendResult, isUrgent: boolean): boolean {
    if (result.kind === 'refused') return byAnswer.test(result.why);
    return result.kind === 'later' && result.why !== 'pace' && (isUrgent || this.isDown(home));
  }
}

const notTried: SendResult = { kind: 'later', waitMs: 2_000, why: 'gateway-down' };
