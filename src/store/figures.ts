/** How the line stands: counts of what is open, each found by an index over open rows, whatever is stored besides. */
import { type Kysely, sql } from 'kysely';
import type { Figures } from '../line/ports.ts';
import { laneAt, type Tables } from './schema.ts';
import { all, one, reading, type Steps, slot } from './statement.ts';

/** Due rows that are counted: more than so many late ones are one fault. */
const countedAtMost = 10_000;

export type FigureStatements = ReturnType<typeof figureStatements>;

export function figureStatements(db: Kysely<Tables>) {
  return {
    queues: reading<Record<string, never>, { lane: number; channel: string | null; texts: number; oldest: number }>(
      'figureQueues',
      sql`select lane, channel, count(*) as texts, min(at) as oldest from messages
        where status in ('queued', 'sending') group by lane, channel order by lane, channel`.compile(db),
    ),
    late: reading<{ now: number }, { rows: number; oldest: number | null }>(
      'figureLate',
      sql`select count(*) as rows, min(due_at) as oldest from
        (select due_at from due where due_at <= ${slot('now')} order by due_at limit ${sql.lit(countedAtMost)}) as l`.compile(
        db,
      ),
    ),
    parked: reading<{ programme_id: string }, { events: number; oldest: number | null }>(
      'figureParked',
      sql`select count(*) as events, min(at) as oldest from parked
        where programme_id = ${slot('programme_id')}`.compile(db),
    ),
    alarms: reading<
      { programme_id: string },
      { opened_at: number; rung: number; promise_until: number | null; now: number }
    >(
      'figureAlarms',
      sql`select opened_at, rung, promise_until, now from questions
        where programme_id = ${slot('programme_id')} and answered_at is null order by opened_at`.compile(db),
    ),
    // Practice has no duty.
    cases: reading<{ programme_id: string }, { status: string; cases: number }>(
      'figureCases',
      sql`select status, count(*) as cases from cases where programme_id = ${slot('programme_id')}
        and open = 1 and due_at is not null group by status order by status`.compile(db),
    ),
  };
}

export function* figuresOf(statements: FigureStatements, programme_id: string, now: number): Steps<Figures> {
  const queues = yield* all(statements.queues, {});
  const late = yield* one(statements.late, { now });
  const parked = yield* one(statements.parked, { programme_id });
  const questions = yield* all(statements.alarms, { programme_id });
  const cases = yield* all(statements.cases, { programme_id });
  return {
    queues: queues.map(({ lane, channel, texts, oldest }) => ({
      lane: laneAt(lane),
      channel,
      texts: Number(texts),
      oldestAt: oldest,
    })),
    late: { rows: Number(late?.rows ?? 0), oldestAt: late?.oldest ?? null },
    parked: { events: Number(parked?.events ?? 0), oldestAt: parked?.oldest ?? null },
    alarms: questions
      .filter((one) => one.now === 1)
      .map((one) => ({ openedAt: one.opened_at, rung: one.rung, promiseUntil: one.promise_until })),
    openQuestions: questions.length,
    cases: Object.fromEntries(cases.map(({ status, cases: count }) => [status, Number(count)])),
  };
}
