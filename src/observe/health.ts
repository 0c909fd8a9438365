/** Whether the line does its work: what a watching program asks for. Counts and durations only. */
import type { Clock, Store } from '../line/ports.ts';

export interface Health {
  /** False when something due or to be sent waits for longer than `lateAtMostMs`, or a human must look at an event. */
  readonly ok: boolean;
  /** How long the oldest due row waits, ms; 0 = nothing is late. */
  readonly dueLateMs: number;
  /** How long the oldest text that may go waits, ms. */
  readonly outboxLateMs: number;
  /** Events whose handling failed twice. */
  readonly parked: number;
}

/** Something waiting for longer than this is a fault, ms. Our convention. */
export const lateAtMostMs = 60_000;

/** Asks the store; rejects when the store does. */
export async function healthOf(store: Store, clock: Clock): Promise<Health> {
  const [dueAt, outboxAt, parked] = [await store.nextDueAt(), await store.nextOutboxAt(), await store.parked()];
  const now = clock.now();
  const late = (at: number | null): number => (at === null ? 0 : Math.max(0, now - at));
  const dueLateMs = late(dueAt);
  const outboxLateMs = late(outboxAt);
  const ok = dueLateMs <= lateAtMostMs && outboxLateMs <= lateAtMostMs && parked.length === 0;
  return { ok, dueLateMs, outboxLateMs, parked: parked.length };
}
