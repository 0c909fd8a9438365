/** What was erased, what proves it, and erasing again after a restore. */
import { type Kysely, sql } from 'kysely';
import { caseKeyId } from './data-keys.ts';
import type { Erasure } from './erasure-list.ts';
import type { Tables } from './schema.ts';

/** What an erased case still is: rows that nobody can open, and when their key went. */
export interface ErasureProof {
  /** Epoch ms; null = its key is still there. */
  readonly destroyedAt: number | null;
  readonly reason: string | null;
  /** Rows sealed under the key: history, texts, questions, timers. */
  readonly records: number;
  readonly texts: number;
  readonly questions: number;
  readonly due: number;
}

/** Everything that was ever erased. */
export async function erasuresOf(db: Kysely<Tables>): Promise<readonly Erasure[]> {
  const rows = await db.selectFrom('erasures').selectAll().orderBy('key_id').execute();
  return rows.map((row) => ({ keyId: row.key_id, programmeId: row.programme_id, at: row.at, reason: row.reason }));
}

/** Looks at what is stored of a case, whatever its state. */
export async function proofOf(db: Kysely<Tables>, caseId: string): Promise<ErasureProof> {
  const keyId = caseKeyId(caseId);
  const key = await db
    .selectFrom('data_keys')
    .select(['destroyed_at', 'wrapped'])
    .where('id', '=', keyId)
    .executeTakeFirst();
  const noted = await db.selectFrom('erasures').select('reason').where('key_id', '=', keyId).executeTakeFirst();
  const countOf = async (table: 'messages' | 'questions' | 'due'): Promise<number> => {
    const found = await db
      .selectFrom(table)
      .select(sql<number>`count(*)`.as('count'))
      .where('key_id', '=', keyId)
      .executeTakeFirst();
    return Number(found?.count ?? 0);
  };
  const records = await db
    .selectFrom('case_events')
    .select(sql<number>`count(*)`.as('count'))
    .where('case_id', '=', caseId)
    .executeTakeFirst();
  return {
    destroyedAt: key?.wrapped == null ? (key?.destroyed_at ?? null) : null,
    reason: noted?.reason ?? null,
    records: Number(records?.count ?? 0),
    texts: await countOf('messages'),
    questions: await countOf('questions'),
    due: await countOf('due'),
  };
}
