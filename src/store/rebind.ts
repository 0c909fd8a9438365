/**
 * Rows of an earlier version, whose seals were bound to less or whose meaning stood in the open: sealed anew, once, when
 * the line that knows how first opens the database. What does not open stays as it is.
 */
import { type Kysely, sql } from 'kysely';
import { sealFlow } from './cases.ts';
import { conversationBound } from './commit.ts';
import type { Context } from './context.ts';
import { personKeyId, type WrappedKey } from './data-keys.ts';
import { dueBound } from './due.ts';
import { personBound } from './people.ts';
import { questionBound, type SealedQuestion } from './questions.ts';
import { questionColumns, slots } from './rows.ts';
import type { ConversationsTable, DueTable, PeopleTable, QuestionsTable, Tables } from './schema.ts';
import { openJson, openSealed, type SealKey, seal, sealJson } from './seal.ts';
import { ifOpens } from './shut.ts';
import { all, change, reading, rowsAtMost, type Steps, slot, writing } from './statement.ts';

/** A question as its row stood before what it is about was sealed. */
interface QuestionBefore extends Omit<QuestionsTable, 'now'> {
  about: string;
  item: string | null;
  urgency: string;
  options: string;
}

/** Before: words and answer alone. */
type SealedBefore = Pick<SealedQuestion, 'words' | 'answer' | 'instead' | 'pictures'>;

interface Page {
  readonly after: string;
  readonly limit: number;
}

export type RebindStatements = ReturnType<typeof rebindStatements>;

export function rebindStatements(db: Kysely<Tables>) {
  const ofPerson = sql`left join data_keys as k on k.id = 'person:' ||`;
  return {
    people: reading<Page, PeopleTable & WrappedKey>(
      'rebindPeople',
      sql`select p.*, k.wrapped, k.destroyed_at from people as p ${ofPerson} p.id
        where p.id > ${slot('after')} order by p.id limit ${rowsAtMost('limit')}`.compile(db),
    ),
    person: writing<{ id: string; sealed: Buffer }>(
      'rebindPerson',
      sql`update people set sealed = ${slot('sealed')} where id = ${slot('id')}`.compile(db),
    ),
    conversations: reading<Page, ConversationsTable & WrappedKey>(
      'rebindConversations',
      sql`select c.*, k.wrapped, k.destroyed_at from conversations as c ${ofPerson} c.person_id
        where c.person_id > ${slot('after')} order by c.person_id limit ${rowsAtMost('limit')}`.compile(db),
    ),
    conversation: writing<{ id: string; sealed: Buffer }>(
      'rebindConversation',
      sql`update conversations set sealed = ${slot('sealed')} where person_id = ${slot('id')}`.compile(db),
    ),
    dues: reading<Page, DueTable & WrappedKey>(
      'rebindDues',
      sql`select d.*, k.wrapped, k.destroyed_at from due as d left join data_keys as k on k.id = d.key_id
        where d.id > ${slot('after')} and d.sealed is not null order by d.id limit ${rowsAtMost('limit')}`.compile(db),
    ),
    due: writing<{ id: string; sealed: Buffer }>(
      'rebindDue',
      sql`update due set sealed = ${slot('sealed')} where id = ${slot('id')}`.compile(db),
    ),
    // A sealed flow has no sign that the name of a flow has.
    records: reading<{ limit: number }, { case_id: string; sequence: number; flow: string }>(
      'rebindRecords',
      sql`select case_id, sequence, flow from case_events where flow = '-' or flow like '%@%'
        limit ${rowsAtMost('limit')}`.compile(db),
    ),
    record: writing<{ case_id: string; sequence: number; flow: string }>(
      'rebindRecord',
      sql`update case_events set flow = ${slot('flow')}
        where case_id = ${slot('case_id')} and sequence = ${slot('sequence')}`.compile(db),
    ),
    questions: reading<{ limit: number }, QuestionBefore & WrappedKey>(
      'rebindQuestions',
      sql`select q.*, k.wrapped, k.destroyed_at from questions_before as q
        left join data_keys as k on k.id = q.key_id limit ${rowsAtMost('limit')}`.compile(db),
    ),
    question: writing<QuestionsTable>('rebindQuestion', db.insertInto('questions').values(slots(questionColumns))),
    dropQuestion: writing<{ id: string }>(
      'rebindDropQuestion',
      sql`delete from questions_before where id = ${slot('id')}`.compile(db),
    ),
    dropQuestions: writing<Record<string, never>>('rebindDropQuestions', sql`drop table questions_before`.compile(db)),
  };
}

/** Mark of the database: how its rows are bound to their seals. */
export const boundName = 'bound';
/** Raised when they must be sealed anew. */
export const boundMark = '2';

/** Rows sealed anew in one transaction. */
const atOnce = 500;

/** One transaction's work from `after` on; gives where the next goes on, null = that was all. */
type Piece = (statements: RebindStatements, context: Context, after: string) => Steps<string | null>;

function* people(statements: RebindStatements, context: Context, after: string): Steps<string | null> {
  const rows = yield* all(statements.people, { after, limit: atOnce });
  for (const row of rows) {
    const keyId = personKeyId(row.id);
    const sealed = resealed(context, keyId, row, keyId, personBound(row));
    if (sealed) yield* change(statements.person, { id: row.id, sealed });
  }
  return rows.length < atOnce ? null : rows.at(-1)!.id;
}

function* conversations(statements: RebindStatements, context: Context, after: string): Steps<string | null> {
  const rows = yield* all(statements.conversations, { after, limit: atOnce });
  for (const row of rows) {
    const { person_id: id, version } = row;
    const sealed = resealed(context, personKeyId(id), row, `conversation:${id}`, conversationBound(id, version));
    if (sealed) yield* change(statements.conversation, { id, sealed });
  }
  return rows.length < atOnce ? null : rows.at(-1)!.person_id;
}

function* dues(statements: RebindStatements, context: Context, after: string): Steps<string | null> {
  const rows = yield* all(statements.dues, { after, limit: atOnce });
  for (const row of rows) {
    const { sealed: before, key_id } = row;
    if (!before || key_id === null) continue;
    const sealed = resealed(context, key_id, { ...row, sealed: before }, `due:${row.id}`, dueBound(row));
    if (sealed) yield* change(statements.due, { id: row.id, sealed });
  }
  return rows.length < atOnce ? null : rows.at(-1)!.id;
}

function* flows(statements: RebindStatements, { ring }: Context): Steps<string | null> {
  const rows = yield* all(statements.records, { limit: atOnce });
  for (const { case_id, sequence, flow } of rows) {
    yield* change(statements.record, { case_id, sequence, flow: sealFlow(ring, case_id, sequence, flow) });
  }
  return rows.length < atOnce ? null : '';
}

function* questions(statements: RebindStatements, context: Context): Steps<string | null> {
  const rows = yield* all(statements.questions, { limit: atOnce });
  for (const row of rows) {
    yield* change(statements.question, questionNow(context, row));
    yield* change(statements.dropQuestion, { id: row.id });
  }
  if (rows.length === atOnce) return '';
  yield* change(statements.dropQuestions, {});
  return null;
}

/** Leaves the mark that all is done. */
function* done(_: RebindStatements, context: Context): Steps<null> {
  yield* change(context.hot.setMark, { name: boundName, value: boundMark });
  return null;
}

/** Seals anew what is stored, in transactions of bounded size. Stopped at any point it can be run again. */
export async function rebindAll(
  db: Kysely<Tables>,
  statements: RebindStatements,
  write: (steps: (context: Context) => Steps<string | null>) => Promise<string | null>,
): Promise<void> {
  // Their old table is gone once they were moved.
  const tables = await db.introspection.getTables();
  const moving = tables.some((one) => one.name === 'questions_before') ? [questions] : [];
  const pieces: readonly Piece[] = [people, conversations, dues, flows, ...moving, done];
  for (const piece of pieces) {
    for (let after: string | null = ''; after !== null; ) {
      const from: string = after;
      after = await write((context) => piece(statements, context, from));
    }
  }
}

/** The same words under the new binding; null where they do not open as they were bound before. */
function resealed(
  context: Context,
  keyId: string,
  row: WrappedKey & { readonly sealed: Buffer },
  before: string,
  now: string,
): Buffer | null {
  return ifOpens(() => {
    const key = context.keys.unwrap(keyId, row);
    return key && seal(key, openSealed(key, row.sealed, before), now);
  });
}

/** What of a question does not open, or was erased, is kept as the bytes that it was. */
function questionNow(context: Context, before: QuestionBefore & WrappedKey): QuestionsTable {
  const { about, item, urgency, options, wrapped, destroyed_at, ...open } = before;
  const row = { ...open, now: urgency === 'now' ? 1 : 0 };
  const sealed = ifOpens(() => {
    const key: SealKey | null = context.keys.unwrap(row.key_id, { wrapped, destroyed_at });
    if (!key) return null;
    const part = openJson<SealedBefore>(key, row.sealed, `question:${row.id}`);
    return sealJson(key, { about, item, urgency, options: JSON.parse(options), ...part }, questionBound(row));
  });
  return sealed ? { ...row, sealed } : row;
}
