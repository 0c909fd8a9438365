/** The line as a whole, for a morning text or a report: counts, and the cases that they are about. */
import { type Kysely, sql } from 'kysely';
import type { Case } from '../case/case.ts';
import type { Overview } from '../conversation/world.ts';
import { backupMarks } from '../line/ports.ts';
import type { Context } from './context.ts';
import { openCases } from './open-cases.ts';
import { questionOf } from './questions.ts';
import type { CaseRow, QuestionRow } from './rows.ts';
import type { Tables } from './schema.ts';
import { all, one, reading, type Steps, slot } from './statement.ts';

/** Cases opened for one overview: more late ones than this are one alarm all together. */
const mostCases = 1_000;

/** Newest messages looked through for texts that were not delivered. */
const messagesLookedAt = 50_000;

const dayMs = 86_400_000;

export function overviewStatements(db: Kysely<Tables>) {
  const cases = () =>
    db
      .selectFrom('cases as c')
      .leftJoin('data_keys as k', (join) => join.on('k.id', '=', sql`'case:' || c.id`))
      .select(['c.id', 'c.version', 'c.fold_sealed', 'c.head', 'c.sequence', 'k.wrapped', 'k.destroyed_at'])
      .select(['c.site_id', 'c.owner_id', 'c.status', 'c.open', 'c.codes', 'c.patient_mark', 'c.earlier_id'])
      .where('c.programme_id', '=', slot('programme_id'))
      .limit(sql.lit(mostCases));
  return {
    countOpen: reading<{ programme_id: string }, { cases: number }>(
      'countOpen',
      db
        .selectFrom('cases')
        .select(sql<number>`count(*)`.as('cases'))
        .where('programme_id', '=', slot('programme_id'))
        .where(sql<boolean>`open = 1`)
        .where('due_at', 'is not', sql.lit(null)),
    ),
    countQuestions: reading<{ programme_id: string }, { open: number; climbed: number }>(
      'countQuestions',
      db
        .selectFrom('questions')
        .select([
          sql<number>`count(*)`.as('open'),
          sql<number>`coalesce(sum(case when rung > 0 then 1 else 0 end), 0)`.as('climbed'),
        ])
        .where('programme_id', '=', slot('programme_id'))
        .where('answered_at', 'is', sql.lit(null)),
    ),
    openQuestionRows: reading<{ programme_id: string }, QuestionRow>(
      'openQuestionRows',
      db
        .selectFrom('questions as q')
        .leftJoin('data_keys as k', 'k.id', 'q.key_id')
        .selectAll('q')
        .select(['k.wrapped', 'k.destroyed_at'])
        .where('q.programme_id', '=', slot('programme_id'))
        .where('q.answered_at', 'is', sql.lit(null)),
    ),
    owingCases: reading<{ programme_id: string; until: number }, CaseRow>(
      'owingCases',
      cases()
        .where(sql<boolean>`c.open = 1`)
        .where('c.due_at', '<=', slot('until'))
        .orderBy('c.due_at')
        .orderBy('c.id'),
    ),
    casesSince: reading<{ programme_id: string; since: number }, CaseRow>(
      'casesSince',
      cases().where('c.opened_at', '>=', slot('since')).orderBy('c.opened_at', 'desc').orderBy('c.id'),
    ),
    // The one that was made goes before the one that is waited for.
    backupSince: reading<Record<string, never>, { value: string }>(
      'backupSince',
      sql`select value from meta where name in (${sql.lit(backupMarks.made)}, ${sql.lit(backupMarks.awaited)})
        order by case when name = ${sql.lit(backupMarks.made)} then 0 else 1 end limit 1`.compile(db),
    ),
    undelivered: reading<{ programme_id: string; since: number }, { person_id: string; texts: number }>(
      'undelivered',
      db
        .selectFrom('messages')
        .select([sql<string>`person_id`.as('person_id'), sql<number>`count(*)`.as('texts')])
        .where(sql<boolean>`seq > (select coalesce(max(seq), 0) from messages) - ${sql.lit(messagesLookedAt)}`)
        .where('programme_id', '=', slot('programme_id'))
        .where(sql<boolean>`direction = 'out' and status in ('failed', 'expired') and person_id is not null`)
        .where('at', '>=', slot('since'))
        .groupBy('person_id')
        .orderBy('person_id'),
    ),
  };
}

/** `until`: cases that owe something by then; `since`: cases opened since then, for figures; null = no figures. */
export function* overviewOf(
  context: Context,
  programme_id: string,
  now: number,
  until: number,
  since: number | null,
): Steps<Overview> {
  const { hot } = context;
  const opened = function* (rows: readonly CaseRow[]): Steps<readonly Case[]> {
    return (yield* openCases(context, rows)).map((one) => one.value);
  };
  const questions = yield* one(hot.countQuestions, { programme_id });
  const backup = yield* one(hot.backupSince, {});
  return {
    openCases: (yield* one(hot.countOpen, { programme_id }))?.cases ?? 0,
    openQuestions: questions?.open ?? 0,
    climbedQuestions: questions?.climbed ?? 0,
    frozenQuestions: (yield* all(hot.openQuestionRows, { programme_id })).filter(
      (row) => questionOf(context, row)?.about === 'wrong',
    ).length,
    owing: yield* opened(yield* all(hot.owingCases, { programme_id, until })),
    lately: since === null ? [] : yield* opened(yield* all(hot.casesSince, { programme_id, since })),
    undelivered: (yield* all(hot.undelivered, { programme_id, since: now - dayMs })).map((row) => ({
      personId: row.person_id,
      texts: row.texts,
    })),
    backupSince: backup === undefined ? null : Number(backup.value),
  };
}
