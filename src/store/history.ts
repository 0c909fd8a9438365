/** Reading back what is stored, for commands, audit and tests: never on the path of a message. */
import { type Kysely, sql } from 'kysely';
import type { Case } from '../case/case.ts';
import type { CaseRecord } from '../case/events.ts';
import type { StoredMessage } from '../line/ports.ts';
import { caseOf, flowOf, recordBound, type SealedRecord } from './cases.ts';
import { codeCandidates } from './code-finder.ts';
import type { Context } from './context.ts';
import { caseKeyId } from './data-keys.ts';
import { messageBound, type SealedText } from './messages.ts';
import { laneAt, type Tables } from './schema.ts';
import { openJson, type SealKey } from './seal.ts';

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
    .selectAll('c')
    .select(['k.wrapped', 'k.destroyed_at'])
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

/** The id of a case by its id or by a code, erased ones too. */
export async function caseIdOf(db: Kysely<Tables>, programmeId: string, codeOrId: string): Promise<string | null> {
  const found = await db
    .selectFrom('cases as c')
    .leftJoin('specimens as s', 's.case_id', 'c.id')
    .select('c.id')
    .where('c.programme_id', '=', programmeId)
    .where((eb) => eb.or([eb('c.id', '=', codeOrId), eb('s.code', 'in', [codeOrId, ...codeCandidates(codeOrId)])]))
    .executeTakeFirst();
  return found?.id ?? null;
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
    flow: flowOf(context.ring, row),
    event: openJson<SealedRecord>(key, row.sealed, recordBound(caseId, row.sequence)).event,
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
    .leftJoin('case_events as e', (join) => join.onRef('e.case_id', '=', 'm.case_id').onRef('e.event_id', '=', 'm.id'))
    .select([
      'e.case_id as record_case',
      'e.sequence as record_sequence',
      'e.sealed as record_sealed',
      'm.id',
      'm.direction',
      'm.at',
      'm.person_id',
      'm.case_id',
      'm.lane',
      'm.segments',
      'm.status',
      'm.key_id',
      'm.sealed',
      'k.wrapped',
      'k.destroyed_at',
    ])
    .orderBy('m.seq')
    .orderBy('e.sequence');
  if (filter.personId !== undefined) query = query.where('m.person_id', '=', filter.personId);
  if (filter.caseId !== undefined) query = query.where('m.case_id', '=', filter.caseId);
  const rows = await query.execute();
  return rows.flatMap((row) => {
    const key = context.keys.unwrap(row.key_id, row);
    const part = key ? textOf(key, row) : null;
    if (!part) return [];
    const { id, direction, at, status } = row;
    const { address, text, more } = part;
    const { flow = '-', step = '-', ask = null } = more ?? {};
    const said = direction === 'in' ? null : { lane: laneAt(row.lane), segments: row.segments, flow, step, ask };
    return [{ id, direction, at, personId: row.person_id, caseId: row.case_id, address, text, status, said }];
  });
}

interface TextRow {
  readonly id: string;
  readonly sealed: Buffer;
  readonly record_case: string | null;
  readonly record_sequence: number | null;
  readonly record_sealed: Buffer | null;
}

/** The text of a row, or of the case's record that holds it; null for a further record of the same event. */
function textOf(key: SealKey, row: TextRow): SealedText | null {
  if (row.sealed.length > 0) {
    return openJson<SealedText>(key, row.sealed, messageBound(row.id));
  }
  if (row.record_case === null || row.record_sequence === null || !row.record_sealed) return null;
  const bound = recordBound(row.record_case, row.record_sequence);
  return openJson<SealedRecord>(key, row.record_sealed, bound).heard ?? null;
}
