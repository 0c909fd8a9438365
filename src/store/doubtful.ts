/** Texts of unknown fate: a report may still come; where none does they go out once more, rather twice than never. */
import { type Kysely, sql } from 'kysely';
import type { Tables } from './schema.ts';
import { change, one, reading, type Steps, slot, writing } from './statement.ts';

/** A report has this long to come, ms: for first aid and answers, whose reader waits, and for the rest. Line convention. */
export const reportWithinMs = { soon: 60_000, later: 3_600_000 } as const;
/** A text goes out again so often at most. */
const againAtMost = 2;

export type DoubtfulStatements = ReturnType<typeof doubtfulStatements>;

export function doubtfulStatements(db: Kysely<Tables>) {
  const open = sql`status = 'unsure' and direction = 'out' and doubts < ${sql.lit(againAtMost)}`;
  return {
    begin: writing<{ soon: number; later: number }>(
      'doubtBegin',
      sql`update messages set doubt_until = case when lane <= 1 then cast(${slot('soon')} as bigint)
        else cast(${slot('later')} as bigint) end
        where ${open} and doubt_until is null`.compile(db),
    ),
    again: writing<{ now: number }>(
      'doubtAgain',
      sql`update messages set status = 'queued', doubt_until = null, doubts = doubts + 1
        where ${open} and doubt_until <= ${slot('now')} and valid_until >= ${slot('now')}`.compile(db),
    ),
    next: reading<Record<string, never>, { at: number | null }>(
      'doubtNext',
      sql`select min(coalesce(doubt_until, 0)) as at from messages
        where ${open} and valid_until >= coalesce(doubt_until, 0)`.compile(db),
    ),
  };
}

/** Gives each fresh doubt its time, and puts back into the queue what was doubtful for long enough. */
export function* releaseDoubtful(statements: DoubtfulStatements, now: number): Steps<void> {
  yield* change(statements.begin, { soon: now + reportWithinMs.soon, later: now + reportWithinMs.later });
  yield* change(statements.again, { now });
}

/** The next instant at which `releaseDoubtful` has something to do. */
export function* nextDoubt(statements: DoubtfulStatements): Steps<number | null> {
  return (yield* one(statements.next, {}))?.at ?? null;
}
