/**
 * The statements that every handled message runs: built with Kysely once, compiled when the store opens, then run by
 * hand. Slots carry the names of their columns.
 */
import { type Kysely, sql } from 'kysely';
import { laboratoryStatuses } from '../case/case.ts';
import type { Dialect } from './dialects/dialect.ts';
import { doingStatements } from './doings.ts';
import { overviewStatements } from './overview.ts';
import { parkedStatements } from './parked.ts';
import { quotedStatements } from './quoted.ts';
import { replaceStatements } from './replace.ts';
import {
  type BriefRow,
  type CaseHead,
  type CaseRow,
  caseColumns,
  caseEventColumns,
  dueColumns,
  type InvitationRow,
  listedCaseColumns,
  messageColumns,
  type NewCase,
  type NewDue,
  type NewMessage,
  type PersonRow,
  type QuestionRow,
  questionColumns,
  slots,
} from './rows.ts';
import type {
  CaseEventsTable,
  CasesTable,
  ConversationsTable,
  DataKeysTable,
  EventKeysTable,
  MessagesTable,
  MetaTable,
  QuestionsTable,
  SpecimensTable,
  Tables,
} from './schema.ts';
import { reading, slot, writing } from './statement.ts';
import { stockStatements } from './stocks.ts';

export type HotStatements = ReturnType<typeof hotStatements>;

/** Briefs given along with one event: more cannot be read on a telephone anyway. */
const briefLimit = 60;

/** Cases of like patients that are opened for one event, newest first. */
const alikeLimit = 20;

/** Invitations of one person that are looked at, newest first: numbers and links stand in one table. */
const invitationLimit = 8;

/** Compiles the statements for one engine. */
export function hotStatements(db: Kysely<Tables>, dialect: Dialect) {
  const people = () =>
    db
      .selectFrom('people as p')
      .leftJoin('data_keys as k', (join) => join.on('k.id', '=', sql`'person:' || p.id`))
      .leftJoin('conversations as c', 'c.person_id', 'p.id')
      .selectAll('p')
      .select(['k.wrapped', 'k.destroyed_at', 'c.version as conversation_version', 'c.sealed as conversation_sealed']);
  const cases = () =>
    db
      .selectFrom('cases as c')
      .leftJoin('data_keys as k', (join) => join.on('k.id', '=', sql`'case:' || c.id`))
      .select(['c.id', 'c.version', 'k.wrapped', 'k.destroyed_at']);
  const briefs = () =>
    cases()
      .select(['c.codes', 'c.site_id', 'c.owner_id', 'c.status', 'c.due_at', 'c.tag_sealed'])
      .where('c.programme_id', '=', slot('programme_id'))
      .where(sql<boolean>`c.open = 1`)
      .orderBy('c.opened_at', 'desc')
      .limit(sql.lit(briefLimit));
  // A duty that was spoken of stays quiet until its due time moves.
  const wakeAt = sql<number | null>`case when due_at = ${slot('due_at')} then wake_at else ${slot('due_at')} end`;

  const caseHeadColumns = ['c.head', 'c.sequence', ...listedCaseColumns.map((name) => `c.${name}` as const)] as const;

  return {
    ...doingStatements(db, dialect),
    ...stockStatements(db),
    parked: parkedStatements(db),
    ...overviewStatements(db),
    ...replaceStatements(db),
    ...quotedStatements(db),
    keyById: reading<{ id: string }, Pick<DataKeysTable, 'wrapped' | 'destroyed_at'>>(
      'keyById',
      db.selectFrom('data_keys').select(['wrapped', 'destroyed_at']).where('id', '=', slot('id')),
    ),
    insertKey: writing<DataKeysTable>(
      'insertKey',
      db
        .insertInto('data_keys')
        .values(slots(['id', 'programme_id', 'wrapped', 'destroyed_at']))
        .onConflict((on) => on.doNothing()),
    ),
    seen: reading<{ key: Buffer }, { at: number }>(
      'seen',
      db.selectFrom('event_keys').select('at').where('key', '=', slot('key')),
    ),
    insertSeen: writing<EventKeysTable>(
      'insertSeen',
      db
        .insertInto('event_keys')
        .values(slots(['key', 'programme_id', 'at']))
        .onConflict((on) => on.doNothing()),
    ),

    personByAddress: reading<{ programme_id: string; hash: Buffer }, PersonRow>(
      'personByAddress',
      people()
        .innerJoin('addresses as a', 'a.person_id', 'p.id')
        .where('a.programme_id', '=', slot('programme_id'))
        .where('a.hash', '=', slot('hash')),
    ),
    personById: reading<{ id: string }, PersonRow>('personById', people().where('p.id', '=', slot('id'))),
    invitationOf: reading<{ person_id: string }, InvitationRow>(
      'invitationOf',
      db
        .selectFrom('invitations')
        .selectAll()
        .where('person_id', '=', slot('person_id'))
        .orderBy('valid_until', 'desc')
        .limit(sql.lit(invitationLimit)),
    ),
    invitationById: reading<{ programme_id: string; id: string }, Pick<InvitationRow, 'person_id'>>(
      'invitationById',
      db
        .selectFrom('invitations')
        .select('person_id')
        .where('programme_id', '=', slot('programme_id'))
        .where('id', '=', slot('id')),
    ),
    insertConversation: writing<ConversationsTable>(
      'insertConversation',
      db
        .insertInto('conversations')
        .values(slots(['person_id', 'programme_id', 'version', 'changed_at', 'sealed']))
        .onConflict((on) => on.doNothing()),
    ),
    updateConversation: writing<{ person_id: string; version: number; changed_at: number; sealed: Buffer }>(
      'updateConversation',
      db
        .updateTable('conversations')
        .set({ version: sql`version + 1`, changed_at: slot('changed_at'), sealed: slot('sealed') })
        .where('person_id', '=', slot('person_id'))
        .where('version', '=', slot('version')),
    ),

    casesById: reading<{ ids: string }, CaseRow>(
      'casesById',
      cases()
        .select(['c.fold_sealed', ...caseHeadColumns])
        .where('c.id', 'in', dialect.members(slot('ids'))),
    ),
    casesByCode: reading<{ programme_id: string; codes: string }, CaseRow>(
      'casesByCode',
      cases()
        .select(['c.fold_sealed', ...caseHeadColumns])
        .where('c.id', 'in', (eb) =>
          eb
            .selectFrom('specimens as s')
            .select('s.case_id')
            .where('s.programme_id', '=', slot('programme_id'))
            .where('s.code', 'in', dialect.members(slot('codes'))),
        ),
    ),
    casesAlike: reading<{ patient_mark: Buffer }, CaseRow>(
      'casesAlike',
      cases()
        .select(['c.fold_sealed', ...caseHeadColumns])
        .where('c.patient_mark', '=', slot('patient_mark'))
        .orderBy('c.opened_at', 'desc')
        .orderBy('c.id')
        .limit(sql.lit(alikeLimit)),
    ),
    casesAfter: reading<{ ids: string }, CaseRow>(
      'casesAfter',
      cases()
        .select(['c.fold_sealed', ...caseHeadColumns])
        .where('c.earlier_id', 'in', dialect.members(slot('ids'))),
    ),
    caseEvents: reading<{ case_id: string }, CaseEventsTable>(
      'caseEvents',
      db.selectFrom('case_events').selectAll().where('case_id', '=', slot('case_id')).orderBy('sequence'),
    ),
    caseHead: reading<{ id: string; version: number }, CaseHead>(
      'caseHead',
      db
        .selectFrom('cases')
        .select(['head', 'sequence', ...listedCaseColumns])
        .where('id', '=', slot('id'))
        .where('version', '=', slot('version')),
    ),
    insertCase: writing<NewCase>(
      'insertCase',
      db
        .insertInto('cases')
        .values(slots(caseColumns))
        .onConflict((on) => on.doNothing()),
    ),
    updateCase: writing<
      Omit<NewCase, 'programme_id' | 'opened_at' | 'wake_at' | 'tag_sealed'> & { tag_sealed: Buffer | null }
    >(
      'updateCase',
      db
        .updateTable('cases')
        .set({
          ...slots([...listedCaseColumns, 'due_at', 'sequence', 'head', 'fold_sealed']),
          tag_sealed: sql`coalesce(${slot('tag_sealed')}, tag_sealed)`,
          wake_at: wakeAt,
          version: sql`version + 1`,
        })
        .where('id', '=', slot('id'))
        .where('version', '=', slot('version')),
    ),
    touchCase: writing<Pick<CasesTable, 'id' | 'version' | 'sequence' | 'head' | 'fold_sealed' | 'due_at'>>(
      'touchCase',
      db
        .updateTable('cases')
        .set({ ...slots(['sequence', 'head', 'fold_sealed', 'due_at']), wake_at: wakeAt, version: sql`version + 1` })
        .where('id', '=', slot('id'))
        .where('version', '=', slot('version')),
    ),
    insertCaseEvent: writing<CaseEventsTable>(
      'insertCaseEvent',
      db
        .insertInto('case_events')
        .values(slots(caseEventColumns))
        .onConflict((on) => on.doNothing()),
    ),
    insertSpecimen: writing<SpecimensTable>(
      'insertSpecimen',
      db
        .insertInto('specimens')
        .values(slots(['programme_id', 'code', 'case_id', 'specimen']))
        .onConflict((on) => on.doNothing()),
    ),
    /** What is on its way to a laboratory or lies in one: of the whole programme, the sites' laboratories are not stored. */
    labBriefs: reading<{ programme_id: string }, BriefRow>(
      'labBriefs',
      briefs().where(sql<boolean>`c.status in (${sql.join(laboratoryStatuses.map((one) => sql.lit(one)))})`),
    ),
    siteBriefs: reading<{ programme_id: string; site_id: string }, BriefRow>(
      'siteBriefs',
      briefs().where('c.site_id', '=', slot('site_id')),
    ),
    waitingBriefs: reading<{ programme_id: string }, BriefRow>(
      'waitingBriefs',
      briefs().where('c.due_at', 'is not', sql.lit(null)),
    ),

    tagsSince: reading<{ programme_id: string; since: number }, Pick<QuestionsTable, 'tag'>>(
      'tagsSince',
      db
        .selectFrom('questions')
        .select('tag')
        .where('programme_id', '=', slot('programme_id'))
        .where('opened_at', '>=', slot('since')),
    ),
    openQuestions: reading<
      { programme_id: string },
      Pick<QuestionsTable, 'id' | 'case_id' | 'tag' | 'asked_by' | 'asked_of' | 'now'>
    >(
      'openQuestions',
      db
        .selectFrom('questions')
        .select(['id', 'case_id', 'tag', 'asked_by', 'asked_of', 'now'])
        .where('programme_id', '=', slot('programme_id'))
        .where('answered_at', 'is', sql.lit(null)),
    ),
    questionsById: reading<{ ids: string }, QuestionRow>(
      'questionsById',
      db
        .selectFrom('questions as q')
        .leftJoin('data_keys as k', 'k.id', 'q.key_id')
        .selectAll('q')
        .select(['k.wrapped', 'k.destroyed_at'])
        .where('q.id', 'in', dialect.members(slot('ids')))
        .orderBy('q.opened_at')
        .orderBy('q.id'),
    ),
    insertQuestion: writing<QuestionsTable>(
      'insertQuestion',
      db
        .insertInto('questions')
        .values(slots(questionColumns))
        .onConflict((on) => on.doNothing()),
    ),
    updateQuestion: writing<
      Pick<
        QuestionsTable,
        | 'id'
        | 'case_id'
        | 'key_id'
        | 'tag'
        | 'asked_by'
        | 'rung'
        | 'asked_of'
        | 'answered_at'
        | 'answered_by'
        | 'promise_until'
        | 'sealed'
      >
    >(
      'updateQuestion',
      db
        .updateTable('questions')
        .set(
          slots([
            'case_id',
            'key_id',
            'tag',
            'asked_by',
            'rung',
            'asked_of',
            'answered_at',
            'answered_by',
            'promise_until',
            'sealed',
          ]),
        )
        .where('id', '=', slot('id'))
        .where('answered_at', 'is', sql.lit(null)),
    ),

    insertDue: writing<NewDue>(
      'insertDue',
      db
        .insertInto('due')
        .values(slots(dueColumns))
        .onConflict((on) => on.doNothing()),
    ),
    dueDone: writing<{ id: string }>('dueDone', db.deleteFrom('due').where('id', '=', slot('id'))),
    dutySpoken: writing<{ id: string; wake_at: number }>(
      'dutySpoken',
      db
        .updateTable('cases')
        .set({ wake_at: sql.lit(null) })
        .where('id', '=', slot('id'))
        .where('wake_at', '=', slot('wake_at')),
    ),
    cancelFrame: writing<{ person_id: string; frame_id: string }>(
      'cancelFrame',
      db.deleteFrom('due').where('person_id', '=', slot('person_id')).where('frame_id', '=', slot('frame_id')),
    ),
    cancelTimer: writing<{ person_id: string; frame_id: string; name: string }>(
      'cancelTimer',
      db
        .deleteFrom('due')
        .where('person_id', '=', slot('person_id'))
        .where('frame_id', '=', slot('frame_id'))
        .where('name', '=', slot('name')),
    ),
    hurry: writing<{ person_id: string; name: string; due_at: number }>(
      'hurry',
      db
        .updateTable('due')
        .set({ due_at: slot('due_at') })
        .where('person_id', '=', slot('person_id'))
        .where('name', '=', slot('name'))
        .where('due_at', '>', slot('due_at')),
    ),

    insertMessage: writing<NewMessage>(
      'insertMessage',
      db
        .insertInto('messages')
        .values(slots(messageColumns))
        .onConflict((on) => on.doNothing()),
    ),
    handed: reading<{ ids: string }, Pick<MessagesTable, 'id' | 'handed_at' | 'reported_at'>>(
      'handed',
      db
        .selectFrom('messages')
        .select(['id', 'handed_at', 'reported_at'])
        .where('id', 'in', dialect.members(slot('ids'))),
    ),

    strangers: reading<{ programme_id: string; day: string }, { answers: number }>(
      'strangers',
      db
        .selectFrom('stranger_days')
        .select('answers')
        .where('programme_id', '=', slot('programme_id'))
        .where('day', '=', slot('day')),
    ),
    setMark: writing<MetaTable>(
      'setMark',
      db
        .insertInto('meta')
        .values(slots(['name', 'value']))
        .onConflict((on) => on.column('name').doUpdateSet(slots(['value']))),
    ),
    countStranger: writing<{ programme_id: string; day: string }>(
      'countStranger',
      db
        .insertInto('stranger_days')
        .values({ ...slots(['programme_id', 'day']), answers: sql<number>`1` })
        .onConflict((on) =>
          on.columns(['programme_id', 'day']).doUpdateSet({ answers: sql`stranger_days.answers + 1` }),
        ),
    ),
  };
}
