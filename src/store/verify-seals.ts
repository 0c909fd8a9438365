/** Whether what is sealed beside people and cases opens: where people stand, questions, timers, texts, what was set aside. */
import { type Kysely, sql } from 'kysely';
import { conversationBound } from './commit.ts';
import type { Context } from './context.ts';
import type { WrappedKey } from './data-keys.ts';
import { dueBound } from './due.ts';
import { messageBound } from './messages.ts';
import { eachPage, pageSize } from './pages.ts';
import { parkedBound } from './parked.ts';
import { invitationBound } from './people.ts';
import { questionBound } from './questions.ts';
import type { DueTable, MessagesTable, ParkedTable, QuestionsTable, Tables } from './schema.ts';
import { openSealed } from './seal.ts';
import { ifOpens } from './shut.ts';

interface SealedRow extends WrappedKey {
  readonly id: string;
  readonly key_id: string | null;
  readonly sealed: Buffer | null;
}

/** Rows of one kind: a page of them with their keys, and what each is bound to. */
interface Kind<Row extends SealedRow> {
  readonly what: string;
  page(after: string): Promise<readonly Row[]>;
  bound(row: Row): string;
}

function kindsOf(db: Kysely<Tables>) {
  const keyed = ['k.wrapped', 'k.destroyed_at'] as const;
  const page = async <Row>(table: 'questions' | 'due' | 'messages' | 'parked', after: string) => {
    const { rows } = await sql<Row & SealedRow>`select t.*, k.wrapped, k.destroyed_at from ${sql.table(table)} as t
      left join data_keys as k on k.id = t.key_id where t.id > ${after} order by t.id limit ${pageSize}`.execute(db);
    return rows;
  };
  const conversations: Kind<SealedRow & { readonly version: number }> = {
    what: 'conversation of',
    page: (after) =>
      db
        .selectFrom('conversations as c')
        .leftJoin('data_keys as k', (join) => join.on('k.id', '=', sql`'person:' || c.person_id`))
        .select(['c.person_id as id', 'c.version', 'c.sealed', ...keyed])
        .select(sql<string>`'person:' || c.person_id`.as('key_id'))
        .where('c.person_id', '>', after)
        .orderBy('c.person_id')
        .limit(pageSize)
        .execute(),
    bound: (row) => conversationBound(row.id, row.version),
  };
  const invitations: Kind<SealedRow> = {
    what: 'invitation',
    page: (after) =>
      db
        .selectFrom('invitations as i')
        .leftJoin('data_keys as k', (join) => join.on('k.id', '=', sql`'person:' || i.person_id`))
        .select(['i.id', 'i.sealed', ...keyed])
        .select(sql<string>`'person:' || i.person_id`.as('key_id'))
        .where('i.id', '>', after)
        .orderBy('i.id')
        .limit(pageSize)
        .execute(),
    bound: (row) => invitationBound(row.id),
  };
  const questions: Kind<QuestionsTable & SealedRow> = {
    what: 'question',
    page: (after) => page('questions', after),
    bound: questionBound,
  };
  const timers: Kind<Omit<DueTable, 'sealed'> & SealedRow> = {
    what: 'timer',
    page: (after) => page('due', after),
    bound: dueBound,
  };
  const texts: Kind<Omit<MessagesTable, 'seq' | 'doubt_until' | 'doubts' | 'place'> & SealedRow> = {
    what: 'text',
    page: (after) => page('messages', after),
    bound: (row) => messageBound(row.id),
  };
  const setAside: Kind<ParkedTable & SealedRow> = {
    what: 'set aside',
    page: (after) => page('parked', after),
    bound: (row) => parkedBound(row.id),
  };
  return { conversations, invitations, questions, timers, texts, setAside };
}

/** One line for each row whose key opens and whose seal does not. */
export async function sealFaults(db: Kysely<Tables>, context: Context): Promise<readonly string[]> {
  const faults: string[] = [];
  const look = <Row extends SealedRow>({ what, page, bound }: Kind<Row>): Promise<void> =>
    eachPage(page, (row) => {
      const { key_id, sealed } = row;
      // Words that led to a record stand in it.
      if (key_id === null || sealed === null || sealed.length === 0) return;
      const key = ifOpens(() => context.keys.unwrap(key_id, row));
      if (key && ifOpens(() => openSealed(key, sealed, bound(row))) === null)
        faults.push(`${what} ${row.id}: does not open`);
    });
  const kinds = kindsOf(db);
  await look(kinds.conversations);
  await look(kinds.invitations);
  await look(kinds.questions);
  await look(kinds.timers);
  await look(kinds.texts);
  await look(kinds.setAside);
  return faults;
}
