/** What one person did to cases lately: looked up when a phone is taken off the line, never on the path of a message. */
import { type Kysely, sql } from 'kysely';
import type { CaseEvent } from '../case/events.ts';
import type { Doing } from '../conversation/world.ts';
import { recordBound, type SealedRecord } from './cases.ts';
import type { Context } from './context.ts';
import { caseKeyId, type WrappedKey } from './data-keys.ts';
import type { Dialect } from './dialects/dialect.ts';
import type { CaseEventsTable, Tables } from './schema.ts';
import { openJson } from './seal.ts';
import { ifOpens } from './shut.ts';
import { all, reading, type Steps, slot } from './statement.ts';

/** Newest messages looked through: more than a line that keeps its daily figures sends in three days. */
const messagesLookedAt = 50_000;

export function doingStatements(db: Kysely<Tables>, dialect: Dialect) {
  return {
    casesTouched: reading<{ person_id: string; since: number }, { case_id: string }>(
      'casesTouched',
      db
        .selectFrom('messages')
        .select(sql<string>`case_id`.as('case_id'))
        .distinct()
        .where(sql<boolean>`seq > (select coalesce(max(seq), 0) from messages) - ${sql.lit(messagesLookedAt)}`)
        .where('person_id', '=', slot('person_id'))
        .where('case_id', 'is not', sql.lit(null))
        .where('at', '>=', slot('since')),
    ),
    recordsBy: reading<
      { ids: string; person_id: string; since: number },
      Pick<CaseEventsTable, 'case_id' | 'sequence' | 'at' | 'sealed'> & WrappedKey
    >(
      'recordsBy',
      db
        .selectFrom('case_events as e')
        .leftJoin('data_keys as k', (join) => join.on('k.id', '=', sql`'case:' || e.case_id`))
        .select(['e.case_id', 'e.sequence', 'e.at', 'e.sealed', 'k.wrapped', 'k.destroyed_at'])
        .where('e.case_id', 'in', dialect.members(slot('ids')))
        .where('e.by_id', '=', slot('person_id'))
        .where('e.at', '>=', slot('since'))
        .orderBy('e.at')
        .orderBy('e.case_id')
        .orderBy('e.sequence'),
    ),
  };
}

/** Every record that this person caused since an instant, oldest first; what does not open, erased cases too, is left out. */
export function* doingsOf(context: Context, personId: string, since: number): Steps<readonly Doing[]> {
  const touched = yield* all(context.hot.casesTouched, { person_id: personId, since });
  if (touched.length === 0) return [];
  const ids = JSON.stringify(touched.map((row) => row.case_id));
  const rows = yield* all(context.hot.recordsBy, { ids, person_id: personId, since });
  return rows.flatMap((row) => {
    const event = ifOpens((): CaseEvent | null => {
      const key = context.keys.unwrap(caseKeyId(row.case_id), row);
      return key && openJson<SealedRecord>(key, row.sealed, recordBound(row.case_id, row.sequence)).event;
    });
    return event ? [{ caseId: row.case_id, at: row.at, type: event.type }] : [];
  });
}
