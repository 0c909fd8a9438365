/** Cases stored by an earlier version, whose fold had another shape: folded anew from their history, which never changes. */
import { type Kysely, sql } from 'kysely';
import { foldBound, markOf } from './cases.ts';
import type { Context } from './context.ts';
import { caseKeyId, type WrappedKey } from './data-keys.ts';
import { foldOf } from './open-cases.ts';
import type { CasesTable, Tables } from './schema.ts';
import { sealJson } from './seal.ts';
import { ifOpens } from './shut.ts';
import { all, change, reading, rowsAtMost, type Steps, slot } from './statement.ts';

type CaseWithKey = CasesTable & WrappedKey;

export type RefoldStatements = ReturnType<typeof refoldStatements>;

export function refoldStatements(db: Kysely<Tables>) {
  return {
    page: reading<{ after: string; limit: number }, CaseWithKey>(
      'refoldPage',
      sql`select c.*, k.wrapped, k.destroyed_at from cases as c left join data_keys as k on k.id = 'case:' || c.id
        where c.id > ${slot('after')} order by c.id limit ${rowsAtMost('limit')}`.compile(db),
    ),
  };
}

/** Folds up to `limit` cases after `after` in one transaction; erased and damaged ones are left alone. `null`: that was all. */
export function* refoldSome(
  context: Context,
  statements: RefoldStatements,
  after: string,
  limit: number,
): Steps<string | null> {
  const rows = yield* all(statements.page, { after, limit });
  for (const row of rows) {
    const key = ifOpens(() => context.keys.unwrap(caseKeyId(row.id), row));
    if (!key) continue;
    const events = yield* all(context.hot.caseEvents, { case_id: row.id });
    // One damaged case does not keep the line from starting.
    const fold = ifOpens(() => foldOf(key, row.id, row.programme_id, events));
    if (!fold) continue;
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
      fold_sealed: sealJson(key, fold, foldBound(row.id, row.version + 1, row.head)),
      tag_sealed: null,
    });
  }
  return rows.length < limit ? null : rows.at(-1)!.id;
}
