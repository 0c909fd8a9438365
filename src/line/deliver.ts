/** The one door out: only this file calls a channel. */

import { nothingChanged } from './change.ts';
import type { DailyFigure } from './daily-figure.ts';
import { creditState } from './link-health.ts';
import type { Channel, Clock, Log, OutboundMessage, OutboxRow, SendResult, Store } from './ports.ts';

/** Texts claimed at a time, and on their way at once. */
const claimAtMost = 32;
/** Longest pause between tries, ms. */
const longestPauseMs = 60_000;
/** Pause of a text that waits for a new budget, ms. */
const budgetPauseMs = 15 * 60_000;

export interface DeliverParts {
  readonly store: Store;
  readonly channels: ReadonlyMap<string, Channel>;
  readonly clock: Clock;
  readonly log: Log;
  readonly programmeId: string;
  /** False for a link whose texts may not arrive. */
  isTrusted(channel: string): boolean;
  /** The day's texts, all together: too many put off reminders. */
  readonly figure: Pick<DailyFigure, 'add' | 'putOffUntil'>;
}

/**
 * Sends what may go out now, and waits for it. If the process dies after a channel took a text and before that is
 * stored, the text is `unsure` after the restart: safety texts go out again, others wait for a report. Returns how many
 * were handed over.
 */
export async function runOutbox(parts: DeliverParts): Promise<number> {
  let sent = 0;
  for (;;) {
    const rows = await parts.store.claimOutbox(parts.clock.now(), claimAtMost);
    if (rows.length === 0) return sent;
    const results = await Promise.all(rows.map((row) => sendOne(parts, row)));
    sent += results.filter(Boolean).length;
  }
}

/** Sends without waiting for the slowest: a gateway that hangs holds up nobody but itself. */
export class Courier {
  private readonly parts: DeliverParts;
  private readonly onTheirWay = new Set<Promise<unknown>>();
  private ended = false;

  constructor(parts: DeliverParts) {
    this.parts = parts;
  }

  /** Claims what there is room for; `done` is called whenever a text is settled. Rejects when the store does. */
  async pump(done: () => void): Promise<void> {
    for (let free = claimAtMost - this.onTheirWay.size; free > 0 && !this.ended; ) {
      const rows = await this.parts.store.claimOutbox(this.parts.clock.now(), free);
      if (rows.length === 0) return;
      free -= rows.length;
      for (const row of rows) {
        const sending: Promise<unknown> = sendOne(this.parts, row)
          .catch((error: unknown) => {
            this.parts.log.write('error', 'settle-failed', { code: error instanceof Error ? error.name : 'unknown' });
          })
          .finally(() => {
            this.onTheirWay.delete(sending);
            done();
          });
        this.onTheirWay.add(sending);
      }
    }
  }

  /** Takes no more; resolves when what is on its way is settled. */
  async end(): Promise<void> {
    this.ended = true;
    await Promise.allSettled([...this.onTheirWay]);
  }
}

async function sendOne(parts: DeliverParts, row: OutboxRow): Promise<boolean> {
  const { store, clock, log } = parts;
  const { message } = row;
  const later = message.lane === 'reminder' ? parts.figure.putOffUntil(clock.now()) : null;
  if (later !== null) {
    await store.settleOutbox(message.id, 'queued', clock.now(), later, null);
    return false;
  }
  const channel = parts.channels.get(message.to.channel);
  const result: SendResult =
    channel && (message.picture === undefined || channel.images)
      ? ((await outOfBudget(parts, channel, row)) ??
        (await channel.send(message).catch((error: unknown) => {
          log.write('error', 'channel-threw', {
            channel: channel.name,
            code: error instanceof Error ? error.name : 'unknown',
          });
          return { kind: 'unsure', why: 'channel-threw' } as const;
        })))
      : { kind: 'refused', why: channel ? 'no-pictures' : 'no-channel' };
  const now = clock.now();
  const { id } = message;
  if (result.kind === 'refused' || (isUrgent(message) && !parts.isTrusted(message.to.channel))) {
    await alsoBy(parts, row, now);
  }
  switch (result.kind) {
    case 'sent':
      await store.settleOutbox(id, channel!.reports ? 'handed' : 'sent', now, null, result.providerId ?? null);
      await parts.figure.add(1, now);
      return true;
    case 'refused':
      log.write('warn', 'text-refused', { message: id, code: result.why });
      await store.settleOutbox(id, 'failed', now, null, null);
      return false;
    case 'later': {
      log.write('info', 'text-later', { message: id, code: result.why, tries: row.tries });
      const pause = Math.min(longestPauseMs, 500 * 2 ** Math.min(row.tries, 10));
      await store.settleOutbox(id, 'queued', now, Math.max(result.notBefore, now + pause), null);
      return false;
    }
    case 'unsure': {
      log.write('warn', 'text-unsure', { message: id, code: result.why, tries: row.tries });
      await store.settleOutbox(id, 'unsure', now, null, null);
      return false;
    }
  }
}

/** First aid, and what is asked of doctors. */
function isUrgent(message: OutboundMessage): boolean {
  return message.lane === 'sos' || (message.lane === 'notice' && message.ask !== null);
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

/** The last tenth of a prepaid budget is kept for first aid, answers, and what is asked of doctors. */
async function outOfBudget(parts: DeliverParts, channel: Channel, row: OutboxRow): Promise<SendResult | null> {
  if (!channel.prepaid || row.message.lane === 'reply') return null;
  const now = parts.clock.now();
  const state = creditState((await parts.store.link(channel.name)).credit);
  if (state === 'enough' || state === 'low' || isUrgent(row.message)) return null;
  return { kind: 'later', notBefore: now + budgetPauseMs, why: 'budget' };
}
