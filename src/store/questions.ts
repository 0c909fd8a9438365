/** Questions to the doctors' ladder. The first answer wins. */
import type { QuestionAbout } from '../conversation/flow.ts';
import type { Question } from '../conversation/state.ts';
import type { Context } from './context.ts';
import { keyIdFor } from './data-keys.ts';
import type { Plan } from './plan.ts';
import type { QuestionRow } from './rows.ts';
import { openJson, sealJson } from './seal.ts';
import { ifOpens } from './shut.ts';
import type { Steps } from './statement.ts';

interface SealedPart {
  readonly words: string;
  readonly answer: string | null;
  readonly instead?: string;
  readonly pictures?: Question['pictures'];
}

function boundOf(id: string): string {
  return `question:${id}`;
}

/** What is asked stands in plain columns: where only the words are damaged the question goes on without them. */
const shutPart: SealedPart = { words: '?', answer: null };

/** The question of a row; null when its key was destroyed or does not open. */
export function questionOf(context: Context, row: QuestionRow): Question | null {
  const key = ifOpens(() => context.keys.unwrap(row.key_id, row));
  if (!key) return null;
  const sealed = ifOpens(() => openJson<SealedPart>(key, row.sealed, boundOf(row.id))) ?? shutPart;
  return {
    id: row.id,
    programmeId: row.programme_id,
    caseId: row.case_id,
    tag: row.tag,
    about: row.about as QuestionAbout,
    item: row.item,
    urgency: row.urgency,
    options: JSON.parse(row.options) as Question['options'],
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
  const { words, answer, instead, pictures } = value;
  const part: SealedPart = {
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
    rung: value.rung,
    asked_of: JSON.stringify(value.askedOf),
    answered_at: value.answeredAt,
    answered_by: value.answeredBy,
    promise_until: value.promiseUntil,
    sealed: sealJson(key, part, boundOf(value.id)),
  };
  if (!isNew) {
    plan.must(context.hot.updateQuestion, moving, 'conflict');
    return;
  }
  const row = {
    ...moving,
    programme_id: value.programmeId,
    about: value.about,
    item: value.item,
    urgency: value.urgency,
    options: JSON.stringify(value.options),
    asked_by: value.askedBy,
    opened_at: value.openedAt,
  };
  plan.must(context.hot.insertQuestion, row, 'conflict');
}
