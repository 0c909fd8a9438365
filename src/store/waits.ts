/** Waits are stored as instants; when the clock is set back, an instant that was near is far away. */
import { type Kysely, sql } from 'kysely';
import { lanes, longestWaitMs } from '../conversation/effect.ts';
import { reportWithinMs } from './doubtful.ts';
import { laneRank, type Tables } from './schema.ts';
import { change, type Steps, slot, writing } from './statement.ts';

/** Longest time that a process may hold what it claimed, ms. */
export const leaseMs = 120_000;
/** So far the clock of another line on the same server may be ahead, ms: what it has just taken stays its own. Line convention. */
export const clocksDifferMs = 120_000;

const dayMs = longestWaitMs.reminder;

/**
 * A row that was set to wait no longer than this is a matter of minutes or hours (a check, a rung, a fixing time): it never
 * waits longer than it was set to, whatever the clock does. Longer ones are days of the calendar and stay. Our convention, ms.
 */
const shortWaitMs = 12 * 3_600_000;

export type WaitStatements = ReturnType<typeof waitStatements>;

export function waitStatements(db: Kysely<Tables>) {
  const now = sql`cast(${slot('now')} as bigint)`;
  const wait = sql`not_before - ${now}`;
  const tooLong = sql.join(
    lanes.map((lane) => sql`(lane = ${sql.lit(laneRank(lane))} and ${wait} > ${sql.lit(longestWaitMs[lane])})`),
    sql` or `,
  );
  return {
    // Whole days are taken off a reminder, so that it still comes at its hour.
    bound: writing<{ now: number }>(
      'waitsBound',
      sql`update messages set not_before = case when lane = ${sql.lit(laneRank('reminder'))}
        then not_before - (${wait}) / ${sql.lit(dayMs)} * ${sql.lit(dayMs)} else ${now} end
        where status = 'queued' and (${tooLong})`.compile(db),
    ),
    // A doubt begins anew with the next claim.
    doubt: writing<{ now: number }>(
      'waitsDoubt',
      sql`update messages set doubt_until = null where status = 'unsure' and doubt_until - ${now} >
        case when lane <= 1 then ${sql.lit(reportWithinMs.soon)} else ${sql.lit(reportWithinMs.later)} end`.compile(db),
    ),
    lease: writing<{ now: number }>(
      'waitsLease',
      sql`update due set lease_until = ${now} where lease_until - ${now} > ${sql.lit(leaseMs)}`.compile(db),
    ),
    due: writing<{ now: number }>(
      'waitsDue',
      sql`update due set due_at = ${now} + wait where wait <= ${sql.lit(shortWaitMs)}
        and due_at - ${now} > wait`.compile(db),
    ),
    end: writing<{ channel: string; now: number }>(
      'waitsEnd',
      sql`update messages set not_before = ${slot('now')} where status = 'queued' and not_before > ${slot('now')}
        and channel = ${slot('channel')} and tries > 0 and lane < ${sql.lit(laneRank('reminder'))}`.compile(db),
    ),
  };
}

/** Brings back every wait that is longer than its reason allows. Returns how many texts and rows. */
export function* boundWaits(statements: WaitStatements, now: number): Steps<number> {
  const bound = (yield* change(statements.bound, { now })) + (yield* change(statements.due, { now }));
  yield* change(statements.lease, { now });
  return bound + (yield* change(statements.doubt, { now }));
}
