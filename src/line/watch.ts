/** Looks at the links now and then and tells the coordinators when one gets worse or better. */
import { channelFacts } from '../conversation/channel-facts.ts';
import { creditState, linkState, slowAfterMs } from './link-health.ts';
import { type Channel, freeAtLeastBytes, type LinkState, type Spare } from './ports.ts';
import { type TellParts, tellChange } from './tell-change.ts';

export interface WatchParts extends TellParts {
  readonly channels: ReadonlyMap<string, Channel>;
  /** Beyond this a network's clock is not compared with ours, ms. */
  readonly offsetAtMostMs: number;
  /** Held back for alarms on a full disk; absent = nothing is. */
  readonly spare?: Spare | null;
}

/** States of the links as they were seen last; urgent texts take another way past a link that is not trusted. */
export class Watch {
  private readonly parts: WatchParts;
  private readonly states = new Map<string, LinkState>();

  constructor(parts: WatchParts) {
    this.parts = parts;
  }

  /** False for a link whose texts may not arrive or do not go out. */
  isTrusted(channel: string): boolean {
    const state = this.states.get(channel) ?? 'ok';
    return state !== 'doubtful' && state !== 'slow';
  }

  stateOf(channel: string): LinkState {
    return this.states.get(channel) ?? 'ok';
  }

  /** Looks once. What changed is told under a key of its own, so that a crash in between tells it once. */
  async look(): Promise<void> {
    const { channels, store, clock } = this.parts;
    const now = clock.now();
    await store.setMark('alive', String(now));
    await this.lookAtDisk();
    for (const channel of channels.values()) {
      const facts = await store.link(channel.name);
      const offsetMs = channel.clockOffsetMs?.() ?? null;
      const state = linkState(
        facts,
        { reports: channel.reports, offsetMs, offsetAtMostMs: this.parts.offsetAtMostMs },
        now,
      );
      this.states.set(channel.name, state);
      const wait = facts.waitingSince === null ? 0 : Math.abs(now - facts.waitingSince);
      const minutes = state === 'clock' ? Math.abs(offsetMs ?? 0) : Math.max(wait, slowAfterMs);
      const link = linkName(channel.name);
      await tellChange(this.parts, {
        mark: `link:${channel.name}`,
        state,
        normal: 'ok',
        key: `link-${state}`,
        vars: { link, minutes: String(Math.floor(minutes / 60_000)) },
      });
      const credit = creditState(facts.credit);
      const left = String(Math.max(0, facts.credit?.left ?? 0));
      await tellChange(this.parts, {
        mark: `credit:${channel.name}`,
        state: credit,
        normal: 'enough',
        key: credit === 'enough' ? null : `credit-${credit}`,
        vars: { link, left, granted: String(facts.credit?.granted ?? 0) },
      });
    }
  }

  /** The coordinators hear while there still is room, and when there is none. */
  private async lookAtDisk(): Promise<void> {
    const { spare } = this.parts;
    if (!spare) return;
    spare.refill();
    const free = spare.freeBytes();
    const low = free !== null && free < freeAtLeastBytes;
    const state = spare.inUse ? 'full' : low ? 'low' : 'ok';
    const left = String(Math.floor((free ?? 0) / 1_000_000));
    await tellChange(this.parts, { mark: 'disk', state, normal: 'ok', key: `disk-${state}`, vars: { left } });
  }

  /** What the quick check of the database's file found: told once, until it is sound again. */
  async file(sound: boolean): Promise<void> {
    const state = sound ? 'sound' : 'damaged';
    const key = sound ? null : 'database-damaged';
    await tellChange(this.parts, { mark: 'database-file', state, normal: 'sound', key, vars: {} });
  }
}

/** What people call a link. */
export function linkName(channel: string): string {
  return channelFacts(channel).name;
}
