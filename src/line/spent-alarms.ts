/** Alarms that every doctor was asked of and nobody answered: somebody has to phone. Pure. */
import type { EpochMs, OpenAlarm } from './ports.ts';

/** `doctors`: how many can be asked. What somebody has in hand is not spent. */
export function spentAlarms(alarms: readonly OpenAlarm[], doctors: number, now: EpochMs): readonly OpenAlarm[] {
  const rungs = Math.max(1, doctors);
  return alarms.filter(({ rung, promiseUntil }) => rung >= rungs && (promiseUntil === null || promiseUntil <= now));
}
