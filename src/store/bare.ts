/** What open columns say around an event. Nothing sealed is read, so that nothing damaged stands in the way. */
import { type Kysely, sql } from 'kysely';
import type { LineEvent } from '../conversation/event.ts';
import type { Bare } from '../conversation/plight.ts';
import type { Person } from '../conversation/world.ts';
import { addressHash, type KeyRing } from './keys.ts';
import type { CasesTable, PeopleTable, QuestionsTable, Tables } from './schema.ts';
import { one, reading, type Steps, slot } from './statement.ts';

export type BareStatements = ReturnType<typeof bareStatements>;

type PersonColumns = Pick<PeopleTable, 'id' | 'site_id' | 'locale' | 'state'>;
type QuestionColumns = Pick<QuestionsTable, 'now' | 'asked_by' | 'case_id'>;

export function bareStatements(db: Kysely<Tables>) {
  const people = () => db.selectFrom('people as p').select(['p.id', 'p.site_id', 'p.locale', 'p.state']);
  const questions = () => db.selectFrom('questions').select(['now', 'asked_by', 'case_id']);
  return {
    byId: reading<{ id: string }, PersonColumns>('bareById', people().where('p.id', '=', slot('id'))),
    byAddress: reading<{ programme_id: string; hash: Buffer }, PersonColumns>(
      'bareByAddress',
      people()
        .innerJoin('addresses as a', 'a.person_id', 'p.id')
        .where('a.programme_id', '=', slot('programme_id'))
        .where('a.hash', '=', slot('hash')),
    ),
    ofCase: reading<{ id: string }, Pick<CasesTable, 'site_id' | 'owner_id'>>(
      'bareCase',
      db.selectFrom('cases').select(['site_id', 'owner_id']).where('id', '=', slot('id')),
    ),
    question: reading<{ id: string }, QuestionColumns>('bareQuestion', questions().where('id', '=', slot('id'))),
    // The alarm of a case, or the one that this person raised.
    alarm: reading<{ person_id: string; case_id: string }, QuestionColumns>(
      'bareAlarm',
      questions()
        .where(sql<boolean>`now = 1 and answered_at is null`)
        .where((eb) => eb.or([eb('asked_by', '=', slot('person_id')), eb('case_id', '=', slot('case_id'))]))
        .limit(sql.lit(1)),
    ),
    parked: reading<Record<string, never>, { count: number }>(
      'bareParked',
      sql`select count(*) as count from parked`.compile(db),
    ),
  };
}

/** Reads the columns around an event. */
export function* bareOf(ring: KeyRing, statements: BareStatements, event: LineEvent): Steps<Bare> {
  const row = yield* personRow(ring, statements, event);
  const person = row && {
    id: row.id,
    siteId: row.site_id,
    locale: row.locale,
    state: row.state as Person['state'],
  };
  const parked = Number((yield* one(statements.parked, {}))?.count ?? 0);
  if (event.kind !== 'due') return { person: person ?? null, clinic: null, alarm: false, parked };
  const question = yield* questionRow(statements, event.due);
  const caseId = question?.case_id ?? event.due.caseId;
  const of = caseId === null ? undefined : yield* one(statements.ofCase, { id: caseId });
  const who = question?.asked_by ?? of?.owner_id ?? null;
  const clinic = who === null ? null : { personId: who, siteId: of?.site_id ?? null };
  return { person: person ?? null, clinic, alarm: question?.now === 1, parked };
}

function* personRow(ring: KeyRing, statements: BareStatements, event: LineEvent): Steps<PersonColumns | undefined> {
  if (event.kind === 'due') {
    const id = event.due.personId;
    return id === null ? undefined : yield* one(statements.byId, { id });
  }
  const hash = addressHash(ring, event.programmeId, event.from);
  return yield* one(statements.byAddress, { programme_id: event.programmeId, hash });
}

/** The question that a due row is about; of a timer the alarm that its person or its case waits in. */
function* questionRow(
  statements: BareStatements,
  due: Extract<LineEvent, { kind: 'due' }>['due'],
): Steps<QuestionColumns | undefined> {
  if ('questionId' in due.what) return yield* one(statements.question, { id: due.what.questionId });
  if (due.what.kind !== 'timer') return undefined;
  return yield* one(statements.alarm, { person_id: due.personId ?? '', case_id: due.caseId ?? '' });
}
