/** Looks at the links now and then and tells the coordinators when one gets worse or better. */
import type { Handler } from './handle.ts';
import { creditState, type LinkState, linkState, slowAfterMs } from './link-health.ts';
import type { Channel, Clock, Log, Random, Store } from './ports.ts';

export interface WatchParts {
  readonly store: Store;
  readonly channels: ReadonlyMap<string, Channel>;
  readonly clock: Clock;
  readonly random: Random;
  readonly log: Log;
  readonly handler: Handler;
  readonly programmeId: string;
  /** Beyond this a network's clock is not compared with ours, ms. */
  readonly offsetAtMostMs: number;
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
    for (const channel of channels.values()) {
      const facts = await store.link(channel.name);
      const offsetMs = channel.clockOffsetMs?.() ?? null;
      const state = linkState(
        facts,
        { reports: channel.reports, offsetMs, offsetAtMostMs: this.parts.offsetAtMostMs },
        now,
      );
      this.states.set(channel.name, state);
      const wait = facts.waitingSince === null ? 0 : now - facts.waitingSince;
      const minutes = state === 'clock' ? Math.abs(offsetMs ?? 0) : Math.max(wait, slowAfterMs);
      await this.tell(`link:${channel.name}`, state, 'ok', `link-${state}`, {
        link: linkName(channel.name),
        minutes: String(Math.floor(minutes / 60_000)),
      });
      const credit = creditState(facts.credit);
      await this.tell(`credit:${channel.name}`, credit, 'enough', credit === 'enough' ? null : `credit-${credit}`, {
        link: linkName(channel.name),
        left: String(Math.max(0, facts.credit?.left ?? 0)),
        granted: String(facts.credit?.granted ?? 0),
      });
    }
  }

  /** Tells once of each change of a state; `normal` is where nothing was ever told. */
  private async tell(
    mark: string,
    state: string,
    normal: string,
    key: string | null,
    vars: Readonly<Record<string, string>>,
  ): Promise<void> {
    const { store, handler, clock, random, log, programmeId } = this.parts;
    const [before = normal, count = '0'] = ((await store.mark(mark)) ?? normal).split(' ');
    if (before === state) return;
    const turn = Number(count) + 1;
    log.write(state === normal ? 'info' : 'warn', 'link-state', { channel: mark, code: state });
    if (key !== null) {
      const at = clock.now();
      const id = `trouble:${mark}:${turn}`;
      const what = { kind: 'trouble', key, vars } as const;
      const due = { id, programmeId, personId: null, caseId: null, name: 'trouble', frameId: null, dueAt: at, what };
      const handled = await handler.handle({
        id,
        programmeId,
        keys: [id],
        at,
        seed: random.bytes(16),
        kind: 'due',
        due,
      });
      if (handled === 'failed') return;
    }
    await store.setMark(mark, `${state} ${turn}`);
  }
}

const names: Readonly<Record<string, string>> = { sms: 'SMS', telegram: 'Telegram', bench: 'Bench' };

/** What people call a link. */
function linkName(channel: string): string {
  return names[channel] ?? channel;
}
