/** Looks now and then at what the line stands on, and tells the coordinators when it gets worse or better. */
import { channelFacts } from '../conversation/channel-facts.ts';
import { ladder } from '../conversation/people.ts';
import { durationOf, type Programme } from '../conversation/programme.ts';
import type { Condition, Conditions } from './condition.ts';
import { awaitBackup, backupState, backupWaitMs, lastBackup } from './last-backup.ts';
import { creditState, linkState, slowAfterMs } from './link-health.ts';
import { type Channel, type Figures, freeAtLeastBytes, type LinkState, type Spare, unreadableForMs } from './ports.ts';
import { spentAlarms } from './spent-alarms.ts';
import { type TellParts, tellChange } from './tell-change.ts';

const minuteMs = 60_000;
const hourMs = 60 * minuteMs;
/** Lanes whose texts never wait for an hour of the day. */
const urgent: readonly string[] = ['sos', 'reply'];

export interface WatchParts extends TellParts {
  readonly channels: ReadonlyMap<string, Channel>;
  readonly programme: Programme;
  /** Calls of a gateway that could not be read; absent where none calls. */
  readonly unreadable?: () => { readonly count: number; readonly lastAt: number | null };
  /** Held back for alarms on a full disk; absent = nothing is. */
  readonly spare?: Spare | null;
}

/** States of the links as they were seen last; urgent texts take another way past a link that is not trusted. */
export class Watch {
  private readonly parts: WatchParts;
  private readonly states = new Map<string, LinkState>();
  /** Ways that were told what they had sent before the start. */
  private readonly restored = new Set<string>();
  // The line that says so is back, whatever was said of it.
  private readonly seen = new Map<string, Condition>([['line', { wrong: false, key: 'line-back', vars: {} }]]);

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

  /** What was seen last, for whoever tells it outside the links. */
  get conditions(): Conditions {
    return this.seen;
  }

  /** Looks once. What changed is told under a key of its own, so that a crash in between tells it once. */
  async look(): Promise<void> {
    const { channels, store, clock } = this.parts;
    const now = clock.now();
    // Before anything is written: on a full disk nothing may be.
    await this.lookAtDisk();
    await store.setMark('alive', String(now));
    await this.lookAtBackup(now);
    const figures = await store.figures(this.parts.programme.id, now);
    await this.lookAtWhatWaits(figures, now);
    const offsetAtMostMs = durationOf(this.parts.programme, 'clock-offset');
    for (const channel of channels.values()) {
      await this.lookAtWays(channel);
      const facts = await store.link(channel.name);
      const offsetMs = channel.clockOffsetMs?.() ?? null;
      const deafMs = channel.deafMs?.() ?? null;
      const state = linkState(facts, { reports: channel.reports, offsetMs, offsetAtMostMs, deafMs }, now);
      this.states.set(channel.name, state);
      // Also a text that is said to be on its way: one whose end nobody notes stays so.
      const said = figures.queues.filter((one) => one.channel === channel.name && urgent.includes(one.lane));
      const waits = said.map((one) => Math.abs(now - one.oldestAt));
      const wait = Math.max(0, ...waits, facts.waitingSince === null ? 0 : Math.abs(now - facts.waitingSince));
      const known = { clock: Math.abs(offsetMs ?? 0), deaf: deafMs ?? 0 };
      const minutes = state === 'clock' || state === 'deaf' ? known[state] : Math.max(wait, slowAfterMs);
      const link = linkName(channel.name);
      const vars = { link, minutes: String(Math.floor(minutes / minuteMs)) };
      const isFaulty = state === 'doubtful' || state === 'deaf';
      const isDown = isFaulty || wait > slowAfterMs;
      const downKey = isFaulty ? (`link-${state}` as const) : 'link-slow';
      this.see(`link-${channel.name}`, isDown, isDown ? downKey : 'link-ok', vars);
      await tellChange(this.parts, { mark: `link:${channel.name}`, state, normal: 'ok', key: `link-${state}`, vars });
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

  /** Of several ways the coordinators hear which one is down, and of each when it had its texts of the day. */
  private async lookAtWays(channel: Channel): Promise<void> {
    const { store } = this.parts;
    const ways = channel.ways?.() ?? [];
    for (const { name, label, isDown, handedAt, day } of ways) {
      const counted = `day-segments:${name}`;
      const [before = '', segments = '0'] = ((await store.mark(counted)) ?? '').split(' ');
      if (!this.restored.has(name)) channel.restoreDay?.(name, before, Number(segments));
      else if (before !== day.day || Number(segments) !== day.segments) {
        await store.setMark(counted, `${day.day} ${day.segments}`);
      }
      this.restored.add(name);
      const isFull = day.atMost !== null && day.segments >= day.atMost;
      await tellChange(this.parts, {
        mark: `way-day:${name}`,
        state: isFull ? day.day : 'ok',
        normal: 'ok',
        key: isFull ? 'way-day-full' : null,
        vars: { link: label, count: String(day.atMost) },
      });
      // Of one that was not asked since the start nothing is known.
      if (ways.length === 1 || (!isDown && handedAt === null)) continue;
      const key = isDown ? 'way-down' : 'link-ok';
      const state = isDown ? 'down' : 'ok';
      await tellChange(this.parts, { mark: `way:${name}`, state, normal: 'ok', key, vars: { link: label } });
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
    this.see('disk-low', state !== 'ok', state === 'ok' ? 'disk-ok' : 'disk-low', { left });
    this.see('disk-full', state === 'full', state === 'full' ? 'disk-full' : 'disk-ok', { left });
    await tellChange(this.parts, { mark: 'disk', state, normal: 'ok', key: `disk-${state}`, vars: { left } });
  }

  /** A copy that is late or could not be made, and faults of the database that the newest one found. */
  private async lookAtBackup(now: number): Promise<void> {
    const { store, programme } = this.parts;
    await awaitBackup(store, now);
    const last = await lastBackup(store);
    const state = backupState(last, now, durationOf(programme, 'backup-late'));
    const key = state === 'well' ? 'backup-ok' : (`backup-${state}` as const);
    const vars = { count: String(Math.floor((backupWaitMs(last, now) ?? 0) / hourMs)) };
    this.see('backup', state !== 'well', key, vars);
    await tellChange(this.parts, { mark: 'backup-state', state, normal: 'well', key, vars });
    const faults = { count: String(last.faults) };
    const faulty = last.faults > 0;
    this.see('backup-faults', faulty, faulty ? 'backup-faults' : 'backup-no-faults', faults);
    const found = faulty ? 'faults' : 'none';
    await tellChange(this.parts, {
      mark: 'backup-found',
      state: found,
      normal: 'none',
      key: faulty ? 'backup-faults' : 'backup-no-faults',
      vars: faults,
    });
  }

  /** What the coordinators hear of in other ways already, or cannot hear of: what is due and does not happen. */
  private async lookAtWhatWaits({ parked, alarms, late }: Figures, now: number): Promise<void> {
    const { store, programme, unreadable } = this.parts;
    const lateMs = late.oldestAt === null ? 0 : now - late.oldestAt;
    const isStuck = lateMs > slowAfterMs;
    this.see('due', isStuck, isStuck ? 'due-late' : 'due-ok', { minutes: String(Math.floor(lateMs / minuteMs)) });
    const isParked = parked.events > 0;
    this.see('parked', isParked, isParked ? 'parked-wait' : 'parked-none', { count: String(parked.events) });
    const roster = await store.roster(programme.id);
    const spent = spentAlarms(alarms, ladder({ roster, programme }, now).length, now);
    const waitMs = Math.abs(now - (spent[0]?.openedAt ?? now));
    const alarm = { count: String(spent.length), minutes: String(Math.floor(waitMs / minuteMs)) };
    this.see('alarm', spent.length > 0, spent.length > 0 ? 'alarm-unanswered' : 'alarm-answered', alarm);
    const calls = unreadable?.();
    if (!calls) return;
    const isUnread = calls.lastAt !== null && Math.abs(now - calls.lastAt) <= unreadableForMs;
    const vars = { link: linkName('sms'), count: String(calls.count) };
    this.see('unreadable', isUnread, isUnread ? 'calls-unreadable' : 'calls-readable', vars);
  }

  private see(what: string, wrong: boolean, key: Condition['key'], vars: Condition['vars']): void {
    this.seen.set(what, { wrong, key, vars });
  }

  /** What the quick check of the database's file found: told once, until it is sound again. */
  async file(sound: boolean): Promise<void> {
    const state = sound ? 'sound' : 'damaged';
    const key = sound ? null : 'database-damaged';
    this.see('database', !sound, key ?? 'database-sound', {});
    await tellChange(this.parts, { mark: 'database-file', state, normal: 'sound', key, vars: {} });
  }
}

/** What people call a link. */
export function linkName(channel: string): string {
  return channelFacts(channel).name;
}
