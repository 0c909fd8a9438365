/**
 * Pointers to cases that are not there any more: in conversations, due rows and open questions. Erasing mends them in the
 * same transaction, by an event for each conversation; what an earlier version or a damaged file left is found here.
 */
import { type Kysely, sql } from 'kysely';
import type { DueWhat } from '../conversation/event.ts';
import type { ConversationState } from '../conversation/state.ts';
import { conversationBound } from './commit.ts';
import type { Context } from './context.ts';
import { personKeyId, type WrappedKey } from './data-keys.ts';
import type { Dialect } from './dialects/dialect.ts';
import { dueColumns, type NewDue, slots } from './rows.ts';
import type { Tables } from './schema.ts';
import { openJson } from './seal.ts';
import { ifOpens } from './shut.ts';
import { all, change, reading, rowsAtMost, type Steps, slot, writing } from './statement.ts';

export type PointerStatements = ReturnType<typeof pointerStatements>;

interface ConversationRow extends WrappedKey {
  person_id: string;
  programme_id: string;
  version: number;
  sealed: Buffer;
}

/** A conversation that names cases which are not there, and does not know yet that it must let go of them. */
interface LostPointer {
  readonly personId: string;
  readonly programmeId: string;
  readonly caseIds: readonly string[];
}

export function pointerStatements(db: Kysely<Tables>, dialect: Dialect) {
  const erased = sql`select id from cases where erased_at is not null`;
  const lostDue = sql`case_id in (${erased}) or (case_id is not null and case_id not in (select id from cases))`;
  const lostQuestions = sql`answered_at is null and case_id in (${erased})`;
  return {
    // Whoever was shown something of the case, wrote in it or is still to be told of it: a conversation that names it is theirs.
    namers: reading<{ case_id: string }, { person_id: string; programme_id: string }>(
      'pointerNamers',
      sql`select person_id, programme_id from conversations where person_id in (
        select person_id from messages where case_id = ${slot('case_id')} and person_id is not null
        union select by_id from case_events where case_id = ${slot('case_id')}
        union select person_id from due where case_id = ${slot('case_id')} and person_id is not null)
        order by person_id`.compile(db),
    ),
    insertMend: writing<NewDue>(
      'insertMend',
      db
        .insertInto('due')
        .values(slots(dueColumns))
        .onConflict((on) => on.doNothing()),
    ),
    conversationPage: reading<{ after: string; limit: number }, ConversationRow>(
      'conversationPage',
      sql`select c.person_id, c.programme_id, c.version, c.sealed, k.wrapped, k.destroyed_at from conversations as c
        left join data_keys as k on k.id = 'person:' || c.person_id
        where c.person_id > ${slot('after')} order by c.person_id limit ${rowsAtMost('limit')}`.compile(db),
    ),
    presentCases: reading<{ ids: string }, { id: string }>(
      'presentCases',
      db
        .selectFrom('cases')
        .select('id')
        .where('id', 'in', dialect.members(slot('ids')))
        .where('erased_at', 'is', sql.lit(null)),
    ),
    pendingMends: reading<Record<string, never>, { id: string }>(
      'pendingMends',
      db.selectFrom('due').select('id').where(sql<boolean>`name = 'mend'`),
    ),
    countLostDue: reading<Record<string, never>, { count: number }>(
      'countLostDue',
      sql`select count(*) as count from due where ${lostDue}`.compile(db),
    ),
    countLostQuestions: reading<Record<string, never>, { count: number }>(
      'countLostQuestions',
      sql`select count(*) as count from questions where ${lostQuestions}`.compile(db),
    ),
    dropLostDue: writing<Record<string, never>>('dropLostDue', sql`delete from due where ${lostDue}`.compile(db)),
    closeLostQuestions: writing<{ at: number }>(
      'closeLostQuestions',
      sql`update questions set answered_at = ${slot('at')} where ${lostQuestions}`.compile(db),
    ),
  };
}

/** Each mending has its own id: what happened once is known for good. */
function mendId(caseId: string, personId: string, at: number): string {
  return `mend:${caseId}:${personId}:${at}`;
}

function mendRow(caseId: string, personId: string, programme_id: string, due_at: number): NewDue {
  const what: DueWhat = { kind: 'mend', caseId, freshBy: null };
  return {
    id: mendId(caseId, personId, due_at),
    programme_id,
    person_id: personId,
    // Not the case's own: a row of the case goes with it.
    case_id: null,
    name: 'mend',
    frame_id: null,
    due_at,
    wait: 0,
    timer: JSON.stringify(what),
    key_id: null,
    sealed: null,
  };
}

/** Leaves an event for each conversation that may name the case. */
export function* mendPointers(statements: PointerStatements, caseId: string, at: number): Steps<void> {
  for (const { person_id, programme_id } of yield* all(statements.namers, { case_id: caseId })) {
    yield* change(statements.insertMend, mendRow(caseId, person_id, programme_id, at));
  }
}

/** Up to `limit` conversations after `after` and those among them that point to nothing; `last` null = that was all. */
function* lostPointers(
  context: Context,
  statements: PointerStatements,
  after: string,
  limit: number,
): Steps<{ readonly lost: readonly LostPointer[]; readonly last: string | null }> {
  const rows = yield* all(statements.conversationPage, { after, limit });
  const named = rows.map((row) => ({ row, ids: casesNamedIn(context, row) }));
  const ids = [...new Set(named.flatMap((one) => one.ids))];
  const last = rows.length < limit ? null : rows.at(-1)!.person_id;
  if (ids.length === 0) return { lost: [], last };
  const present = new Set((yield* all(statements.presentCases, { ids: JSON.stringify(ids) })).map((row) => row.id));
  const rest = (yield* all(statements.pendingMends, {})).map((row) => row.id.slice(0, row.id.lastIndexOf(':')));
  const pending = new Set(rest);
  const lost = named.flatMap(({ row, ids: own }) => {
    const caseIds = own.filter((id) => !present.has(id) && !pending.has(`mend:${id}:${row.person_id}`));
    return caseIds.length === 0 ? [] : [{ personId: row.person_id, programmeId: row.programme_id, caseIds }];
  });
  return { lost, last };
}

function casesNamedIn(context: Context, row: ConversationRow): readonly string[] {
  const state = ifOpens(() => {
    const key = context.keys.unwrap(personKeyId(row.person_id), row);
    return key && openJson<ConversationState>(key, row.sealed, conversationBound(row.person_id, row.version));
  });
  if (!state) return [];
  const ids = [
    ...state.threads.map((one) => one.caseId),
    state.lastCaseId,
    state.lastAnswered?.caseId ?? null,
    state.more?.caseId ?? null,
  ];
  return [...new Set(ids.filter((id) => id !== null))];
}

/** Conversations looked through in one piece, so that nothing waits for the last of many. */
const pieceAtMost = 64;

/**
 * Mends what points to nothing, piece by piece: with the first piece the rows of cases that are not there, then an event
 * for each conversation. Gives how many, and where the next call goes on; null = that was all.
 */
export function* mendSome(
  context: Context,
  statements: PointerStatements,
  after: string,
  at: number,
): Steps<{ readonly mended: number; readonly last: string | null }> {
  let mended = 0;
  if (after === '') {
    mended += yield* change(statements.dropLostDue, {});
    mended += yield* change(statements.closeLostQuestions, { at });
  }
  const { lost, last } = yield* lostPointers(context, statements, after, pieceAtMost);
  for (const { personId, programmeId, caseIds } of lost) {
    for (const id of caseIds) {
      mended += yield* change(statements.insertMend, mendRow(id, personId, programmeId, at));
    }
  }
  return { mended, last };
}

const byItself = 'the line mends this at its next start';

/** One line for each pointer to a case that is not there. Reads only, in pieces. */
export async function pointerFaults(
  statements: PointerStatements,
  read: <T>(steps: (context: Context) => Steps<T>) => Promise<T>,
): Promise<readonly string[]> {
  const faults: string[] = [];
  const due = await read(() => all(statements.countLostDue, {}));
  const questions = await read(() => all(statements.countLostQuestions, {}));
  const rows = { 'due rows': due[0]?.count, 'open questions': questions[0]?.count };
  for (const [name, count] of Object.entries(rows)) {
    if (Number(count ?? 0) > 0) faults.push(`${count} ${name} are of cases that are not there; ${byItself}`);
  }
  for (let after: string | null = ''; after !== null; ) {
    const from: string = after;
    const found = await read((context) => lostPointers(context, statements, from, pieceAtMost));
    for (const { personId, caseIds } of found.lost) {
      faults.push(`conversation of ${personId}: names ${caseIds.join(', ')}, which is not there; ${byItself}`);
    }
    after = found.last;
  }
  return faults;
}
