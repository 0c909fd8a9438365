/** Whether the line does its work: what a watching program asks for. Counts, states and durations only. */
import { existsSync, statfsSync, statSync } from 'node:fs';
import {
  type Clock,
  freeAtLeastBytes,
  type LinkState,
  type Spare,
  type Store,
  unreadableForMs,
} from '../line/ports.ts';
import type { Way } from '../line/way.ts';

/** Texts of one lane that have not gone out. */
export interface QueueHealth {
  readonly texts: number;
  /** Since the oldest was said, ms: also texts that wait for their hour. */
  readonly oldestMs: number;
}

export interface LinkHealth {
  readonly state: LinkState;
  /** Since the last text came in, went out, was reported, ms; null = not among the newest texts. */
  readonly heardAgoMs: number | null;
  readonly handedAgoMs: number | null;
  readonly reportedAgoMs: number | null;
  /** Prepaid segments left; null = nobody counts. */
  readonly creditLeft: number | null;
  /** Its gateways by name; empty where it has no ways to choose from. */
  readonly ways: Readonly<Record<string, WayHealth>>;
}

/** Of one gateway since the start; the times as above. */
export interface WayHealth {
  readonly state: 'ok' | 'down';
  readonly heardAgoMs: number | null;
  readonly handedAgoMs: number | null;
  readonly reportedAgoMs: number | null;
  /** Segments that it took today, and may take; null = as many as come. */
  readonly segmentsToday: number;
  readonly segmentsADay: number | null;
}

export interface Health {
  /**
   * False when something due or to be sent waits for longer than `lateAtMostMs`, a link is slow, doubtful or deaf, a human
   * must look at an event, a gateway is down, one brought what could not be read lately, the disk is nearly full, or
   * the database's file does not hold together.
   */
  readonly ok: boolean;
  /** How long the oldest due row waits, ms; 0 = nothing is late. */
  readonly dueLateMs: number;
  /** How long the oldest text that may go waits, ms; first aid and answers count from when they were said. */
  readonly outboxLateMs: number;
  /** Events whose handling failed twice. */
  readonly parked: number;
  /** By lane. */
  readonly queues: Readonly<Record<string, QueueHealth>>;
  readonly links: Readonly<Record<string, LinkHealth>>;
  /** Calls of a gateway since the start that could not be read, and how long ago the last one came; null = none. */
  readonly unreadableCalls: { readonly count: number; readonly lastAgoMs: number | null };
  /** Size of the database's write-ahead log; null where the engine keeps it elsewhere. */
  readonly walBytes: number | null;
  /** What the data folder's disk still takes; null = not known. */
  readonly freeBytes: number | null;
  /** The disk is full and only alarms are stored. */
  readonly onReserve: boolean;
  /** False: at the start the database's file did not hold together. */
  readonly sound: boolean;
  /** The line was started as a trial: no patient may depend on it. */
  readonly trial: boolean;
  /** Since the newest copy of the database was made, ms; null = none is known of. */
  readonly backupAgeMs: number | null;
}

export interface HealthParts {
  readonly store: Pick<Store, 'nextDueAt' | 'nextOutboxAt' | 'parked' | 'queues' | 'link'>;
  readonly clock: Clock;
  /** State of each link that is watched. */
  readonly links: ReadonlyMap<string, () => LinkState>;
  /** Gateways of a link; absent = none has any. */
  readonly ways?: (link: string) => readonly Way[];
  /** Absent where no gateway calls. */
  readonly unreadable?: () => { readonly count: number; readonly lastAt: number | null };
  /** Whether the database's file held together at the start; absent = not looked at. */
  readonly sound?: () => boolean;
  /** Started as a trial; absent = no. */
  readonly trial?: boolean;
  /** File of the embedded database; null = another engine. */
  readonly database: string | null;
  /** When the newest copy was made; null = none is known of; absent = nobody makes any. */
  readonly backupAt?: () => Promise<number | null>;
  /** What is held back on its disk; absent = nothing. */
  readonly spare?: Pick<Spare, 'inUse'> | null;
}

/** Something waiting for longer than this is a fault, ms. Our convention. */
export const lateAtMostMs = 60_000;
/** Nobody is left unreached or unheard by it. */
const isTrusted = ({ state }: LinkHealth): boolean => state !== 'slow' && state !== 'doubtful' && state !== 'deaf';
/** Lanes whose texts never wait for an hour of the day. */
const urgent: ReadonlySet<string> = new Set(['sos', 'reply']);

/** Asks store and disk; rejects when the store does. */
export async function healthOf(parts: HealthParts): Promise<Health> {
  const { store, clock } = parts;
  const [dueAt, outboxAt, parked] = [await store.nextDueAt(), await store.nextOutboxAt(), await store.parked()];
  const now = clock.now();
  const late = (at: number | null): number => (at === null ? 0 : Math.max(0, now - at));
  const dueLateMs = late(dueAt);
  // Said in the future: the clock was set back since, and nobody knows how long it waits.
  const waiting = (await store.queues()).map((one) => ({ ...one, oldestMs: Math.abs(now - one.oldestAt) }));
  const urgentMs = waiting.filter(({ lane }) => urgent.has(lane)).map(({ oldestMs }) => oldestMs);
  const outboxLateMs = Math.max(late(outboxAt), ...urgentMs.filter((ms) => ms > lateAtMostMs));
  const queues = Object.fromEntries(waiting.map(({ lane, texts, oldestMs }) => [lane, { texts, oldestMs }]));
  const links: Record<string, LinkHealth> = {};
  for (const [name, stateOf] of parts.links) {
    links[name] = await linkHealth(store, name, stateOf(), parts.ways?.(name) ?? [], now);
  }
  const { count, lastAt } = parts.unreadable?.() ?? { count: 0, lastAt: null };
  const unreadableCalls = { count, lastAgoMs: lastAt === null ? null : Math.max(0, now - lastAt) };
  const freeBytes = freeBytesOf(parts.database);
  const onReserve = parts.spare?.inUse ?? false;
  const sound = parts.sound?.() ?? true;
  const ok =
    sound &&
    !onReserve &&
    dueLateMs <= lateAtMostMs &&
    outboxLateMs <= lateAtMostMs &&
    parked.length === 0 &&
    (unreadableCalls.lastAgoMs === null || unreadableCalls.lastAgoMs > unreadableForMs) &&
    Object.values(links).every((link) => Object.values(link.ways).every((way) => way.state === 'ok')) &&
    Object.values(links).every(isTrusted) &&
    (freeBytes === null || freeBytes >= freeAtLeastBytes);
  const walBytes = parts.database === null ? null : sizeOf(`${parts.database}-wal`);
  const backupAt = (await parts.backupAt?.()) ?? null;
  return {
    ok,
    dueLateMs,
    outboxLateMs,
    parked: parked.length,
    queues,
    links,
    unreadableCalls,
    walBytes,
    freeBytes,
    onReserve,
    sound,
    trial: parts.trial ?? false,
    backupAgeMs: backupAt === null ? null : Math.abs(now - backupAt),
  };
}

async function linkHealth(
  store: Pick<Store, 'link'>,
  name: string,
  state: LinkState,
  ways: readonly Way[],
  now: number,
): Promise<LinkHealth> {
  const { sent, heardAt, credit } = await store.link(name);
  const ago = (at: number | null | undefined): number | null => (at == null ? null : Math.max(0, now - at));
  const wayHealth = (way: Way): WayHealth => ({
    state: way.isDown ? 'down' : 'ok',
    heardAgoMs: ago(way.heardAt),
    handedAgoMs: ago(way.handedAt),
    reportedAgoMs: ago(way.reportedAt),
    segmentsToday: way.day.segments,
    segmentsADay: way.day.atMost,
  });
  const reported = sent.flatMap((one) => one.reportedAt ?? []);
  return {
    state,
    heardAgoMs: ago(heardAt),
    handedAgoMs: ago(sent[0]?.handedAt),
    reportedAgoMs: reported.length === 0 ? null : ago(Math.max(...reported)),
    creditLeft: credit?.left ?? null,
    ways: Object.fromEntries(ways.map((way) => [way.name, wayHealth(way)])),
  };
}

export function sizeOf(file: string): number {
  return statSync(file, { throwIfNoEntry: false })?.size ?? 0;
}

function freeBytesOf(database: string | null): number | null {
  if (database === null || !existsSync(database)) return null;
  const { bavail, bsize } = statfsSync(database);
  return bavail * bsize;
}
