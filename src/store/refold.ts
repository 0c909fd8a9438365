/** Cases stored by an earlier version, whose fold had another shape: folded anew from their history, which never changes. */
import { type Kysely, sql } from 'kysely';
import { type Case, evolve, noCase } from '../case/case.ts';
import { foldBound, markOf, recordBound, type SealedRecord } from './cases.ts';
import type { Context } from './context.ts';
import { caseKeyId, type WrappedKey } from './data-keys.ts';
import type { CaseEventsTable, CasesTable, Tables } from './schema.ts';
import { openJson, sealJson } from './seal.ts';
import { all, change, reading, type Steps, slot } from './statement.ts';

type CaseWithKey = CasesTable & WrappedKey;

export type RefoldStatements = ReturnType<typeof refoldStatements>;

export function refoldStatements(db: Kysely<Tables>) {
  return {
    page: reading<{ after: string; limit: number }, CaseWithKey>(
      'refoldPage',
      sql`select c.*, k.wrapped, k.destroyed_at from cases as c left join data_keys as k on k.id = 'case:' || c.id
        where c.id > ${slot('after')} order by c.id limit ${slot('limit')}`.compile(db),
    ),
    events: reading<{ case_id: string }, CaseEventsTable>(
      'refoldEvents',
      db.selectFrom('case_events').selectAll().where('case_id', '=', slot('case_id')).orderBy('sequence'),
    ),
  };
}

/** Folds up to `limit` cases after `after` in one transaction; erased ones are left alone. `null`: that was all. */
export function* refoldSome(
  context: Context,
  statements: RefoldStatements,
  after: string,
  limit: number,
): Steps<string | null> {
  const rows = yield* all(statements.page, { after, limit });
  for (const row of rows) {
    const key = context.keys.unwrap(caseKeyId(row.id), row);
    if (!key) continue;
    const events = yield* all(statements.events, { case_id: row.id });
    let fold: Case = noCase(row.id, row.programme_id);
    for (const one of events) {
      const { event } = openJson<SealedRecord>(key, one.sealed, recordBound(row.id, one.sequence));
      const { sequence, at, by_id, event_id, flow } = one;
      fold = evolve(fold, { caseId: row.id, sequence, at, by: by_id, eventId: event_id, flow, event });
    }
    const open = fold.status !== 'closed';
    yield* change(context.hot.updateCase, {
      id: row.id,
      version: row.version,
      site_id: fold.siteId,
      owner_id: fold.ownerId,
      status: fold.status,
      open: open ? 1 : 0,
      due_at: open ? context.dueAtOf(fold) : null,
      sequence: row.sequence,
      codes: fold.specimens.map((specimen) => specimen.code).join(' '),
      patient_mark: markOf(context.ring, fold),
      earlier_id: fold.earlierCaseId,
      head: row.head,
      fold_sealed: sealJson(key, fold, foldBound(row.id)),
      tag_sealed: null,
    });
  }
  return rows.length < limit ? null : rows.at(-1)!.id;
}
