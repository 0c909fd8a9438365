/** The one door out: only this loop calls a channel. */
import type { Channel, Clock, Log, OutboxRow, SendResult, Store } from './ports.ts';

/** Texts claimed at a time. */
const claimAtMost = 32;

export interface DeliverParts {
  readonly store: Store;
  readonly channels: ReadonlyMap<string, Channel>;
  readonly clock: Clock;
  readonly log: Log;
}

/**
 * Sends what may go out now. If the process dies after a channel took a text and before that is stored, the text is
 * `unsure` after the restart: safety texts go out again, others wait for a report. Returns how many were handed over.
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

async function sendOne(parts: DeliverParts, row: OutboxRow): Promise<boolean> {
  const { store, clock, log } = parts;
  const channel = parts.channels.get(row.message.to.channel);
  const result: SendResult = channel
    ? await channel.send(row.message).catch((error: unknown) => {
        log.write('error', 'channel-threw', {
          channel: channel.name,
          code: error instanceof Error ? error.name : 'unknown',
        });
        return { kind: 'unsure', why: 'channel-threw' } as const;
      })
    : { kind: 'refused', why: 'no-channel' };
  const now = clock.now();
  switch (result.kind) {
    case 'sent':
      await store.settleOutbox(
        row.message.id,
        channel!.reports ? 'handed' : 'sent',
        now,
        null,
        result.providerId ?? null,
      );
      return true;
    case 'refused':
      log.write('warn', 'text-refused', { message: row.message.id, code: result.why });
      await store.settleOutbox(row.message.id, 'failed', now, null, null);
      return false;
    case 'later':
      log.write('info', 'text-later', { message: row.message.id, code: result.why, tries: row.tries });
      await store.settleOutbox(row.message.id, 'queued', now, Math.max(result.notBefore, now + 1), null);
      return false;
    case 'unsure':
      log.write('warn', 'text-unsure', { message: row.message.id, code: result.why });
      await store.settleOutbox(row.message.id, 'unsure', now, null, null);
      return false;
  }
}
