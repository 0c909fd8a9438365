/** Cases out of their rows. A fold that does not open is made anew from the history, which holds everything. */
import { type Case, evolve, noCase } from '../case/case.ts';
import { caseOf, keepHead, recordBound, type SealedRecord } from './cases.ts';
import type { Context } from './context.ts';
import { caseKeyId } from './data-keys.ts';
import type { CaseRow } from './rows.ts';
import type { CaseEventsTable } from './schema.ts';
import { openJson, type SealKey } from './seal.ts';
import { ifOpens } from './shut.ts';
import { all, type Steps } from './statement.ts';
import { StoreError } from './store-error.ts';

export interface OpenedCase {
  readonly value: Case;
  readonly version: number;
}

/** The case that a whole history gives. Throws `broken-history` where a record is missing, `unreadable` where one does not open. */
export function foldOf(key: SealKey, caseId: string, programmeId: string, events: readonly CaseEventsTable[]): Case {
  let fold: Case = noCase(caseId, programmeId);
  for (const one of events) {
    if (one.sequence !== fold.sequence + 1) throw new StoreError('broken-history', caseId);
    const { event } = openJson<SealedRecord>(key, one.sealed, recordBound(caseId, one.sequence));
    const { sequence, at, by_id, event_id } = one;
    fold = evolve(fold, { caseId, sequence, at, by: by_id, eventId: event_id, event });
  }
  return fold;
}

/** The cases of these rows in their order. Those that do not open in any way, erased ones among them, are left out. */
export function* openCases(context: Context, rows: readonly CaseRow[]): Steps<readonly OpenedCase[]> {
  const opened: OpenedCase[] = [];
  for (const row of rows) {
    const found = ifOpens(() => caseOf(context, row)) ?? (yield* foldedAnew(context, row));
    if (found) opened.push(found);
  }
  return opened;
}

function* foldedAnew(context: Context, row: CaseRow): Steps<OpenedCase | null> {
  const key = ifOpens(() => context.keys.unwrap(caseKeyId(row.id), row));
  if (!key) return null;
  const events = yield* all(context.hot.caseEvents, { case_id: row.id });
  const [first] = events;
  if (!first || events.length !== row.sequence) return null;
  const value = ifOpens(() => foldOf(key, row.id, first.programme_id, events));
  if (!value) return null;
  keepHead(context, row);
  return { value, version: row.version };
}
