/** The one door out: only this file calls a channel. */

import { assertNever } from '../clinical/assert-never.ts';
import { longestWaitMs } from '../conversation/effect.ts';
import { errorCode } from '../text/error-code.ts';
import { backoffMs } from './backoff.ts';
import { nothingChanged } from './change.ts';
import type { ClockJump } from './clock-jump.ts';
import type { DailyFigure } from './daily-figure.ts';
import { creditState } from './link-health.ts';
import type {
  Channel,
  Clock,
  EpochMs,
  Log,
  Meter,
  OutboundMessage,
  OutboxRow,
  SendResult,
  Steady,
  Store,
} from './ports.ts';
import { Room } from './room.ts';

/** Texts claimed at a time, and on their way at once. */
const claimAtMost = 32;
/** First and longest pause between tries, ms. */
const firstPauseMs = 1_000;
const longestPauseMs = 60_000;
/** A channel that took nothing for so long was out, ms: what it put off is not waited for once it takes texts again. */
const outageMs = 10_000;
/** Pause of a text that waits for a new budget, ms. */
const budgetPauseMs = 15 * 60_000;

export interface DeliverParts {
  readonly store: Store;
  readonly channels: ReadonlyMap<string, Channel>;
  readonly clock: Clock;
  readonly steady: Steady;
  readonly jump: ClockJump;
  /** Since when (steady) each channel that takes nothing has taken nothing. */
  readonly failingSince: Map<string, number>;
  readonly log: Log;
  readonly meter?: Meter;
  readonly programmeId: string;
  /** False for a link whose texts may not arrive. */
  isTrusted(channel: string): boolean;
  /** The day's texts, all together: too many put off reminders. */
  readonly figure: Pick<DailyFigure, 'add' | 'putOffUntil' | 'nextMorning'>;
}

/**
 * Sends what may go out now, and waits for it. If the process dies after a channel took a text and before that is
 * stored, the text is `unsure` after the restart: safety texts go out again, others wait for a report. Returns how many
 * were handed over.
 */
export async function runOutbox(parts: DeliverParts): Promise<number> {
  let sent = 0;
  for (;;) {
    const rows = await claim(parts, claimAtMost);
    if (rows.length === 0) return sent;
    const results = await Promise.all(rows.map((row) => sendOne(parts, row)));
    sent += results.filter(Boolean).length;
  }
}

/** After a jump of the clock nothing waits for longer than it may. */
async function claim(
  parts: DeliverParts,
  limit: number,
  room?: Readonly<Record<string, number>>,
): Promise<readonly OutboxRow[]> {
  const now = parts.clock.now();
  if (parts.jump.happened()) {
    parts.log.write('warn', 'clock-set', { count: await parts.store.boundWaits(now) });
  }
  return parts.store.claimOutbox(now, limit, room);
}

/** Sends without waiting for the slowest: a gateway that hangs holds up nobody but itself. */
export class Courier {
  private readonly parts: DeliverParts;
  private readonly onTheirWay = new Set<Promise<unknown>>();
  private readonly room: Room;
  private ended = false;

  constructor(parts: DeliverParts) {
    this.parts = parts;
    this.room = new Room(parts.steady);
  }

  /**
   * Claims what there is room for; `done` is called whenever a text is settled. Gives the ms until a channel's own pace
   * leaves room again; null = it is none that anything could wait for. Rejects when the store does.
   */
  async pump(done: () => void): Promise<number | null> {
    for (let free = claimAtMost - this.onTheirWay.size; free > 0 && !this.ended; ) {
      const rows = await claim(this.parts, free, this.freeNow());
      if (rows.length === 0) return this.paceMs();
      free -= rows.length;
      for (const row of rows) {
        const arrived = this.room.begin(row.message.to.channel);
        const sending: Promise<unknown> = sendOne(this.parts, row)
          .catch((error: unknown) => {
            this.parts.log.write('error', 'settle-failed', { code: errorCode(error) });
          })
          .finally(() => {
            arrived();
            this.onTheirWay.delete(sending);
            done();
          });
        this.onTheirWay.add(sending);
      }
    }
    return null;
  }

  private freeNow(): Readonly<Record<string, number>> {
    const { channels } = this.parts;
    const free = Object.entries(this.room.free(channels.keys()));
    return Object.fromEntries(
      free.map(([name, texts]) => [name, Math.min(texts, channels.get(name)?.room?.().free ?? texts)]),
    );
  }

  private paceMs(): number | null {
    const waits = [...this.parts.channels.values()].map((one) => one.room?.().waitMs ?? 0).filter((ms) => ms > 0);
    return waits.length === 0 ? null : Math.min(...waits);
  }

  /** Resolves when what is on its way is settled. */
  async idle(): Promise<void> {
    await Promise.allSettled([...this.onTheirWay]);
  }

  /** Takes no more; resolves as `idle`. */
  end(): Promise<void> {
    this.ended = true;
    return this.idle();
  }
}

async function sendOne(parts: DeliverParts, row: OutboxRow): Promise<boolean> {
  const { store, clock, log } = parts;
  const { message } = row;
  const channel = parts.channels.get(message.to.channel);
  const takes = channel !== undefined && (message.picture === undefined || channel.images);
  const heldUntil = takes ? await heldBackUntil(parts, channel, row) : null;
  if (heldUntil !== null) {
    await store.settleOutbox(message.id, 'queued', clock.now(), heldUntil, null);
    return false;
  }
  const result: SendResult = takes
    ? await channel.send(message).catch((error: unknown) => {
        log.write('error', 'channel-threw', {
          channel: channel.name,
          code: errorCode(error),
        });
        return { kind: 'unsure', why: 'channel-threw' } as const;
      })
    : { kind: 'refused', why: channel ? 'no-pictures' : 'no-channel' };
  const now = clock.now();
  const { id } = message;
  parts.meter?.sent(message.to.channel, message.lane, result.kind, message.segments);
  if (result.kind === 'refused' || (goesEveryWay(message) && !parts.isTrusted(message.to.channel))) {
    await alsoBy(parts, row, now);
  }
  switch (result.kind) {
    case 'sent':
      await store.settleOutbox(id, channel!.reports ? 'handed' : 'sent', now, null, result.providerId ?? null);
      await parts.figure.add(1, now);
      await worksAgain(parts, message.to.channel, now);
      return true;
    case 'refused':
      log.write('warn', 'text-refused', { message: id, code: result.why });
      await store.settleOutbox(id, 'failed', now, null, null);
      return false;
    case 'later': {
      const isPaced = result.why === 'pace';
      if (!isPaced) {
        log.write('info', 'text-later', { message: id, code: result.why, tries: row.tries });
        noteFailure(parts, message.to.channel);
      }
      // A steady clock has fractions of a millisecond, which no instant of the store has.
      const waitMs = Math.ceil(result.waitMs);
      const pauseMs = Math.max(waitMs, isPaced ? 0 : backoffMs(row.tries, firstPauseMs, longestPauseMs));
      await store.settleOutbox(id, 'queued', now, now + Math.min(pauseMs, longestWaitMs[message.lane]), null);
      return false;
    }
    case 'unsure': {
      noteFailure(parts, message.to.channel);
      log.write('warn', 'text-unsure', { message: id, code: result.why, tries: row.tries });
      await store.settleOutbox(id, 'unsure', now, null, null);
      return false;
    }
    default:
      return assertNever(result);
  }
}

function noteFailure({ failingSince, steady }: DeliverParts, channel: string): void {
  if (!failingSince.has(channel)) failingSince.set(channel, steady());
}

/** After an outage all that waited goes at once, in its order, instead of each text at the end of its own pause. */
async function worksAgain({ failingSince, steady, store }: DeliverParts, channel: string, now: number): Promise<void> {
  const since = failingSince.get(channel);
  failingSince.delete(channel);
  if (since !== undefined && steady() - since >= outageMs) await store.endWaits(channel, now);
}

/** First aid, and what is asked of doctors. */
function isUrgent(message: OutboundMessage): boolean {
  return message.lane === 'sos' || (message.lane === 'notice' && message.ask !== null);
}

/** Goes by every address of its person while the one that it goes by is not trusted: also that a link is in trouble. */
function goesEveryWay(message: OutboundMessage): boolean {
  return isUrgent(message) || /^trouble\./.test(message.step);
}

/** Begins the id of a text that goes by another address too. */
const copyMark = 'also:';

/** The same text to the other addresses of the person, once, by links that work. */
async function alsoBy(parts: DeliverParts, row: OutboxRow, now: number): Promise<void> {
  const { store, channels, programmeId } = parts;
  const { message } = row;
  // A copy that is refused as well makes no further copies.
  if (message.personId === null || message.lane === 'reminder' || message.id.startsWith(copyMark)) return;
  if (message.hereOnly) return;
  const person = (await store.roster(programmeId)).find((one) => one.id === message.personId);
  const others = (person?.addresses ?? []).filter(
    (one) => one.channel !== message.to.channel && channels.has(one.channel) && parts.isTrusted(one.channel),
  );
  if (others.length === 0) return;
  const eventId = `${copyMark}${message.id}`;
  const outbox = others.map((to) => ({ ...message, id: `${eventId}:${to.channel}`, to, at: now, notBefore: now }));
  await store.commit([{ ...nothingChanged(eventId, programmeId, now), outbox }]);
}

/**
 * Until when the line itself holds a text back, which says nothing about its channel: a reminder when the day has had its
 * texts, the line's or those of the way that it would go; news in the last tenth of a prepaid budget, which is kept for first aid, answers and what is asked of doctors.
 */
async function heldBackUntil(parts: DeliverParts, channel: Channel, row: OutboxRow): Promise<EpochMs | null> {
  const { message } = row;
  const now = parts.clock.now();
  const { figure } = parts;
  const isFull = channel.isDayFull?.(message) === true;
  const tomorrow =
    message.lane === 'reminder' ? (figure.putOffUntil(now) ?? (isFull ? figure.nextMorning(now) : null)) : null;
  if (tomorrow !== null || !channel.prepaid || message.lane === 'reply' || isUrgent(message)) return tomorrow;
  const credit = creditState((await parts.store.link(channel.name)).credit);
  if (credit === 'enough' || credit === 'low') return null;
  parts.log.write('info', 'text-later', { message: message.id, code: 'budget', tries: row.tries });
  return now + budgetPauseMs;
}
