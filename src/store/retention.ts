/** What has been kept for long enough: found and taken away page by page, so that no transaction is long. */
import { type Kysely, sql } from 'kysely';
import type { Tables } from './schema.ts';
import { all, change, one, reading, rowsAtMost, type Steps, slot, writing } from './statement.ts';

export type RetentionStatements = ReturnType<typeof retentionStatements>;

/** Rows looked at in one transaction. */
const pageRows = 1_000;

interface PageEnd {
  readonly last: number | null;
  readonly oldest: number | null;
}

export function retentionStatements(db: Kysely<Tables>) {
  return {
    countCases: reading<{ programme_id: string }, { cases: number }>(
      'countKeptCases',
      sql`select count(*) as cases from cases
        where programme_id = ${slot('programme_id')} and erased_at is null`.compile(db),
    ),
    casePage: reading<{ after: string; limit: number }, { id: string }>(
      'casePage',
      sql`select id from cases where id > ${slot('after')} order by id limit ${rowsAtMost('limit')}`.compile(db),
    ),
    // Whoever is still to be reminded of something, a review day for example, is not done with the case.
    overdue: reading<{ programme_id: string; after: string; last: string; before: number }, { id: string }>(
      'overdueCases',
      sql`select c.id from cases as c where c.id > ${slot('after')} and c.id <= ${slot('last')}
        and c.programme_id = ${slot('programme_id')} and c.open = 0 and c.erased_at is null
        and not exists (select 1 from case_events as e where e.case_id = c.id and e.at >= ${slot('before')})
        and c.id not in (select d.case_id from due as d where d.case_id is not null) order by c.id`.compile(db),
    ),
    textPage: reading<{ after: number; limit: number }, PageEnd>(
      'textPage',
      sql`select max(seq) as last, min(at) as oldest from (select seq, at from messages
        where seq > ${slot('after')} order by seq limit ${rowsAtMost('limit')}) as page`.compile(db),
    ),
    dropTexts: writing<{ after: number; last: number; before: number }>(
      'dropTexts',
      sql`delete from messages where seq > ${slot('after')} and seq <= ${slot('last')} and case_id is null
        and at < ${slot('before')} and status not in ('queued', 'sending', 'unsure')`.compile(db),
    ),
  };
}

/** Cases of a programme that are not erased. */
export function* countCases(statements: RetentionStatements, programme_id: string): Steps<number> {
  return Number((yield* one(statements.countCases, { programme_id }))?.cases ?? 0);
}

/** One page of cases: where it ended (null = there are no more), and which of it are closed, untouched since `before`, with nothing to come. */
export function* overduePage(
  statements: RetentionStatements,
  programme_id: string,
  before: number,
  after: string,
): Steps<{ readonly last: string | null; readonly ids: readonly string[] }> {
  const page = yield* all(statements.casePage, { after, limit: pageRows });
  const last = page.at(-1)?.id ?? null;
  if (last === null) return { last, ids: [] };
  const rows = yield* all(statements.overdue, { programme_id, after, last, before });
  return { last, ids: rows.map((row) => row.id) };
}

/** Drops texts of no case from before `before` in one page; null = nothing older is left. Rows stand in the order of time. */
export function* dropTextPage(
  statements: RetentionStatements,
  before: number,
  after: number,
): Steps<{ readonly last: number | null; readonly dropped: number }> {
  const page = yield* one(statements.textPage, { after, limit: pageRows });
  const last = page?.last ?? null;
  if (last === null || (page?.oldest ?? before) >= before) return { last: null, dropped: 0 };
  return { last, dropped: yield* change(statements.dropTexts, { after, last, before }) };
}

/** Goes through pages until there is none; other work of the process comes in between. */
export async function throughPages<Place>(
  first: Place,
  page: (after: Place) => Promise<{ readonly last: Place | null }>,
): Promise<void> {
  for (let after: Place | null = first; after !== null; ) {
    after = (await page(after)).last;
    await new Promise((resolve) => setImmediate(resolve));
  }
}
