/** Erasing: the key is destroyed and with it everything sealed under it; ids, instants and the chain stay. */
import { type Kysely, sql } from 'kysely';
import { caseKeyId, personKeyId } from './data-keys.ts';
import { mendPointers, type PointerStatements } from './pointers.ts';
import { slots } from './rows.ts';
import type { ErasuresTable, Tables } from './schema.ts';
import { change, one, reading, type Steps, slot, writing } from './statement.ts';

export type EraseStatements = ReturnType<typeof eraseStatements>;

/** Why something was erased. */
export const erasureReasons = ['patient-asked', 'kept-long-enough', 'entered-by-mistake', 'ordered', 'left'] as const;

export type ErasureReason = (typeof erasureReasons)[number];

export function eraseStatements(db: Kysely<Tables>) {
  return {
    note: writing<ErasuresTable>(
      'noteErasure',
      db
        .insertInto('erasures')
        .values(slots(['key_id', 'programme_id', 'at', 'reason']))
        .onConflict((on) => on.doNothing()),
    ),
    keyOwner: reading<{ id: string }, { programme_id: string }>(
      'erasedKeyOwner',
      db.selectFrom('data_keys').select('programme_id').where('id', '=', slot('id')),
    ),
    destroyKey: writing<{ id: string; at: number }>(
      'destroyKey',
      db
        .updateTable('data_keys')
        .set({ wrapped: sql.lit(null), destroyed_at: slot('at') })
        .where('id', '=', slot('id'))
        .where('destroyed_at', 'is', sql.lit(null)),
    ),
    closeCase: writing<{ id: string; at: number }>(
      'eraseCase',
      db
        .updateTable('cases')
        .set({
          open: sql`0`,
          due_at: sql.lit(null),
          wake_at: sql.lit(null),
          patient_mark: sql.lit(null),
          earlier_id: sql.lit(null),
          erased_at: slot('at'),
          version: sql`version + 1`,
        })
        .where('id', '=', slot('id')),
    ),
    dropCaseDue: writing<{ case_id: string }>(
      'eraseCaseDue',
      db.deleteFrom('due').where('case_id', '=', slot('case_id')),
    ),
    dropPersonDue: writing<{ person_id: string }>(
      'erasePersonDue',
      db.deleteFrom('due').where('person_id', '=', slot('person_id')),
    ),
    dropQueued: writing<{ key_id: string }>(
      'eraseQueued',
      db
        .updateTable('messages')
        .set({ status: sql<'expired'>`'expired'` })
        .where('key_id', '=', slot('key_id'))
        .where(sql<boolean>`status = 'queued'`),
    ),
    dropQuestions: writing<{ key_id: string; at: number }>(
      'eraseQuestions',
      db
        .updateTable('questions')
        .set({ answered_at: slot('at') })
        .where('key_id', '=', slot('key_id'))
        .where('answered_at', 'is', sql.lit(null)),
    ),
    dropAddresses: writing<{ person_id: string }>(
      'eraseAddresses',
      db.deleteFrom('addresses').where('person_id', '=', slot('person_id')),
    ),
    bumpRoster: writing<{ id: string }>(
      'eraseBumpsRoster',
      db
        .updateTable('rosters')
        .set({ version: sql`version + 1` })
        .where('programme_id', '=', (eb) =>
          eb.selectFrom('people').select('programme_id').where('id', '=', slot('id')),
        ),
    ),
    suspend: writing<{ id: string }>(
      'suspend',
      db
        .updateTable('people')
        .set({
          state: sql<string>`'suspended'`,
          version: sql`version + 1`,
          changed_in: sql`(select r.version from rosters r where r.programme_id = people.programme_id)`,
        })
        .where('id', '=', slot('id')),
    ),
  };
}

function* destroy(statements: EraseStatements, keyId: string, at: number, reason: ErasureReason): Steps<boolean> {
  const owner = yield* one(statements.keyOwner, { id: keyId });
  if (owner) yield* change(statements.note, { key_id: keyId, programme_id: owner.programme_id, at, reason });
  const changed = yield* change(statements.destroyKey, { id: keyId, at });
  yield* change(statements.dropQueued, { key_id: keyId });
  yield* change(statements.dropQuestions, { key_id: keyId, at });
  return changed === 1;
}

/** Erases what is known of one patient; whoever may point to the case lets go of it. False: no such key, or erased before. */
export function* eraseCase(
  statements: EraseStatements & PointerStatements,
  caseId: string,
  at: number,
  reason: ErasureReason,
): Steps<boolean> {
  yield* mendPointers(statements, caseId, at);
  yield* change(statements.closeCase, { id: caseId, at });
  yield* change(statements.dropCaseDue, { case_id: caseId });
  return yield* destroy(statements, caseKeyId(caseId), at, reason);
}

/** Erases a person's name, addresses, conversation and texts that belong to no case; the person is suspended. */
export function* erasePerson(
  statements: EraseStatements,
  personId: string,
  at: number,
  reason: ErasureReason,
): Steps<boolean> {
  yield* change(statements.dropAddresses, { person_id: personId });
  yield* change(statements.dropPersonDue, { person_id: personId });
  yield* change(statements.bumpRoster, { id: personId });
  yield* change(statements.suspend, { id: personId });
  return yield* destroy(statements, personKeyId(personId), at, reason);
}
