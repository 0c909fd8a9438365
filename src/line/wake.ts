import type { Due, LineEvent } from '../conversation/event.ts';
import type { DailyFigure } from './daily-figure.ts';
import type { Digests } from './digests.ts';
import type { Handler } from './handle.ts';
import type { Log, Random, Store } from './ports.ts';

/** Due rows handled in one round; rows of different people share commits. */
const roundAtMost = 64;

/**
 * Turns what is due into events, oldest instant first; rows of one instant together. A row whose handling cannot be
 * stored stays due. Returns the next due instant, or null when there is none. Never loops on `now`: rows that
 * handling adds for `now` are taken in the same call, later ones are not.
 */
export async function runDue(
  parts: {
    readonly store: Store;
    readonly handler: Handler;
    readonly random: Random;
    readonly log: Log;
    readonly digests: Digests;
    readonly figure: DailyFigure;
  },
  now: number,
): Promise<number | null> {
  const stuck = new Set<string>();
  for (;;) {
    const stored = await parts.store.dueBefore(now, roundAtMost + stuck.size);
    const unstored = [...(await parts.digests.dueAt(now)), ...(await parts.figure.dueAt(now))];
    const rows = [...stored, ...unstored].filter((row) => !stuck.has(row.id));
    if (rows.length === 0) break;
    const handled = await Promise.all(rows.map((row) => parts.handler.handle(eventOf(row, now, parts.random))));
    for (const [index, outcome] of handled.entries()) {
      // A duplicate is a row that was done before a crash could mark it; parked ones are kept for a human.
      if (outcome !== 'done') stuck.add(rows[index]!.id);
      if (outcome === 'failed') continue;
      parts.digests.done(rows[index]!);
      parts.figure.done(rows[index]!);
    }
    if (handled.every((outcome) => outcome === 'failed')) {
      parts.log.write('error', 'due-rows-wait', { count: rows.length });
      break;
    }
  }
  const next = [await parts.store.nextDueAt(), await parts.digests.nextAt(now)].filter((one) => one !== null);
  return next.length === 0 ? null : Math.min(...next);
}

function eventOf(due: Due, now: number, random: Random): LineEvent {
  return {
    id: due.id,
    programmeId: due.programmeId,
    keys: [`due:${due.id}`],
    at: now,
    seed: random.bytes(16),
    kind: 'due',
    due,
  };
}
