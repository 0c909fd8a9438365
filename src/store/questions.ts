/** Questions to the doctors' ladder. The first answer wins. */
import type { Question } from '../conversation/state.ts';
import type { Context } from './context.ts';
import { keyIdFor } from './data-keys.ts';
import type { Plan } from './plan.ts';
import type { QuestionRow } from './rows.ts';
import type { QuestionsTable } from './schema.ts';
import { openJson, sealJson } from './seal.ts';
import { ifOpens } from './shut.ts';
import type { Steps } from './statement.ts';

/** What a question is about is sealed with its words: it tells what became of a patient. */
export type SealedQuestion = Pick<
  Question,
  'about' | 'item' | 'urgency' | 'options' | 'words' | 'answer' | 'instead' | 'pictures'
>;

type OpenColumns = Omit<QuestionsTable, 'programme_id' | 'key_id' | 'sealed'>;

/** What is sealed opens only beside who was asked, how far it climbed and who answered: not as it stood earlier. */
export function questionBound(row: OpenColumns): string {
  const { id, case_id, tag, now, asked_by, opened_at, rung, asked_of, answered_at, answered_by, promise_until } = row;
  const open = [case_id, tag, now, asked_by, opened_at, rung, asked_of, answered_at, answered_by, promise_until];
  return JSON.stringify([`question:${id}`, ...open]);
}

/** The question of a row; null when its key was destroyed or does not open. */
export function questionOf(context: Context, row: QuestionRow): Question | null {
  const key = ifOpens(() => context.keys.unwrap(row.key_id, row));
  if (!key) return null;
  const sealed = ifOpens(() => openJson<SealedQuestion>(key, row.sealed, questionBound(row)));
  if (!sealed) return null;
  return {
    id: row.id,
    programmeId: row.programme_id,
    caseId: row.case_id,
    tag: row.tag,
    about: sealed.about,
    item: sealed.item,
    urgency: sealed.urgency,
    options: sealed.options,
    words: sealed.words,
    askedBy: row.asked_by,
    openedAt: row.opened_at,
    rung: row.rung,
    askedOf: JSON.parse(row.asked_of) as string[],
    answeredAt: row.answered_at,
    answeredBy: row.answered_by,
    answer: sealed.answer,
    promiseUntil: row.promise_until,
    ...(sealed.instead === undefined ? {} : { instead: sealed.instead }),
    ...(sealed.pictures === undefined ? {} : { pictures: sealed.pictures }),
  };
}

/**
 * Plans the writing of a question. `conflict`: its id or its tag among the open ones is taken, or an answer was there before.
 */
export function* putQuestion(context: Context, plan: Plan, value: Question, isNew: boolean): Steps<void> {
  const keyId = keyIdFor({
    caseId: value.caseId,
    personId: value.askedBy,
    programmeId: value.programmeId,
    at: value.openedAt,
  });
  const key = yield* context.keys.obtain(keyId, value.programmeId);
  const { about, item, urgency, options, words, answer, instead, pictures } = value;
  const part: SealedQuestion = {
    about,
    item,
    urgency,
    options,
    words,
    answer,
    ...(instead === undefined ? {} : { instead }),
    ...(pictures === undefined ? {} : { pictures }),
  };
  const moving = {
    id: value.id,
    // Asked before its patient was named, it is the case's from then on, and goes when that is erased.
    case_id: value.caseId,
    key_id: keyId,
    tag: value.tag,
    // Whoever goes on with an alarm waits for its answer from then on.
    asked_by: value.askedBy,
    rung: value.rung,
    asked_of: JSON.stringify(value.askedOf),
    answered_at: value.answeredAt,
    answered_by: value.answeredBy,
    promise_until: value.promiseUntil,
  };
  const fixed = { now: urgency === 'now' ? 1 : 0, opened_at: value.openedAt };
  const sealed = sealJson(key, part, questionBound({ ...moving, ...fixed }));
  if (isNew) {
    const row = { ...moving, ...fixed, programme_id: value.programmeId, sealed };
    plan.must(context.hot.insertQuestion, row, 'conflict');
    return;
  }
  plan.must(context.hot.updateQuestion, { ...moving, sealed }, 'conflict');
}
