/** Reading back what is stored, for commands, audit and tests: never on the path of a message. */
import { type Kysely, sql } from 'kysely';
import type { Case } from '../case/case.ts';
import type { CaseEvent, CaseRecord } from '../case/events.ts';
import type { StoredMessage } from '../line/ports.ts';
import { caseOf, recordBound } from './cases.ts';
import { codeCandidates } from './code-finder.ts';
import type { Context } from './context.ts';
import { caseKeyId } from './data-keys.ts';
import { messageBound, type SealedText } from './messages.ts';
import type { Tables } from './schema.ts';
import { openJson } from './seal.ts';

/** One whole case by its id or by the code of a specimen; null when unknown or erased. */
export async function findCase(
  db: Kysely<Tables>,
  context: Context,
  programmeId: string,
  codeOrId: string,
): Promise<Case | null> {
  const codes = [codeOrId, ...codeCandidates(codeOrId)];
  const row = await db
    .selectFrom('cases as c')
    .leftJoin('data_keys as k', (join) => join.on('k.id', '=', sql`'case:' || c.id`))
    .select(['c.id', 'c.version', 'c.fold_sealed', 'k.wrapped', 'k.destroyed_at'])
    .where('c.programme_id', '=', programmeId)
    .where((eb) =>
      eb.or([
        eb('c.id', '=', codeOrId),
        eb(
          'c.id',
          'in',
          eb
            .selectFrom('specimens as s')
            .select('s.case_id')
            .where('s.programme_id', '=', programmeId)
            .where('s.code', 'in', codes),
        ),
      ]),
    )
    .executeTakeFirst();
  return row ? (caseOf(context, row)?.value ?? null) : null;
}

/** The records of a case in order; empty when unknown or erased. */
export async function historyOf(db: Kysely<Tables>, context: Context, caseId: string): Promise<readonly CaseRecord[]> {
  const keyRow = await db
    .selectFrom('data_keys')
    .select(['wrapped', 'destroyed_at'])
    .where('id', '=', caseKeyId(caseId))
    .executeTakeFirst();
  const key = keyRow ? context.keys.unwrap(caseKeyId(caseId), keyRow) : null;
  if (!key) return [];
  const rows = await db
    .selectFrom('case_events')
    .selectAll()
    .where('case_id', '=', caseId)
    .orderBy('sequence')
    .execute();
  return rows.map((row) => ({
    caseId,
    sequence: row.sequence,
    at: row.at,
    by: row.by_id,
    eventId: row.event_id,
    flow: row.flow,
    event: openJson<CaseEvent>(key, row.sealed, recordBound(caseId, row.sequence)),
  }));
}

/** Texts in and out of a person or a case, in the order they were stored; what was erased is left out. */
export async function messagesOf(
  db: Kysely<Tables>,
  context: Context,
  filter: { readonly personId?: string; readonly caseId?: string },
): Promise<readonly StoredMessage[]> {
  let query = db
    .selectFrom('messages as m')
    .leftJoin('data_keys as k', 'k.id', 'm.key_id')
    .select([
      'm.id',
      'm.direction',
      'm.at',
      'm.person_id',
      'm.status',
      'm.key_id',
      'm.sealed',
      'k.wrapped',
      'k.destroyed_at',
    ])
    .orderBy('m.seq');
  if (filter.personId !== undefined) query = query.where('m.person_id', '=', filter.personId);
  if (filter.caseId !== undefined) query = query.where('m.case_id', '=', filter.caseId);
  const rows = await query.execute();
  return rows.flatMap((row) => {
    const key = context.keys.unwrap(row.key_id, row);
    if (!key) return [];
    const part = openJson<SealedText>(key, row.sealed, messageBound(row.id));
    const { id, direction, at, status } = row;
    return [{ id, direction, at, personId: row.person_id, address: part.address, text: part.text, status }];
  });
}
