/** A doctor's answer taken down: the clinic hears it, the other doctors too, and a promise gets its due time. */
import { inMarks, longestQuoted } from '../text/one-line.ts';
import { clockWords, dayWordsAt } from '../text/time-words.ts';
import type { DueWhat } from './event.ts';
import { personById, waitsFor } from './people.ts';
import { siteOf } from './programme.ts';
import { isPromise, isUndecided, promiseMs } from './promise.ts';
import { inDaytime, localTime } from './schedule.ts';
import type { Question } from './state.ts';
import type { Turn } from './turn.ts';
import type { Person } from './world.ts';

/** Marks a question answered, or held by whoever promised, and tells whoever waits for it. */
export function answerOpenQuestion(turn: Turn, questionId: string, answer: string, words: string): void {
  const question = turn.questions.find((one) => one.id === questionId);
  const { person } = turn;
  if (!question || question.answeredAt !== null || !person) return;
  const promised = isPromise(question, answer) ? promiseUntil(turn, question) : null;
  turn.putQuestion(
    promised === null
      ? { ...question, answeredAt: turn.now, answeredBy: person.id, answer, promiseUntil: null }
      : { ...question, answeredBy: person.id, answer, promiseUntil: promised },
  );
  const { caseId } = question;
  if (caseId !== null) turn.record(caseId, { type: 'doctor-answered', question: question.id, answer, words });
  // Every doctor had been asked, and the coordinators were to phone them: they need not any more, unless the choice is open still.
  const isOpen = answer === 'words' && isUndecided(question);
  if (!isOpen && question.rung >= Math.max(1, question.askedOf.length) && !turn.caseOf(caseId)?.practice) {
    const { about, urgency, openedAt, askedBy, tag } = question;
    const vars = { q: tag, about, urgency, openedAt, askedBy, by: person.name };
    turn.notify('coordinators', 'common.answered-after-all', 'notice', caseId, question.item, vars);
  }
  // With nobody there it goes to the owner, where it is kept.
  const to = waitsFor(turn.world, turn.caseOf(caseId), question)?.id ?? turn.caseOf(caseId)?.ownerId;
  const what: DueWhat = { kind: 'answered', questionId, caseId, answer, words, by: person.id };
  if (to) turn.post(to, what, { caseId });
  if (promised !== null) {
    turn.post(null, { kind: 'climb', questionId, rung: question.rung + 1 }, { caseId, at: promised });
  }
  for (const id of question.askedOf) {
    const other = personById(turn.world, id);
    if (id === person.id || !other) continue;
    const vars = {
      q: question.tag,
      by: person.name,
      answer: answerWords(turn, other, question, answer, words),
      when: promised === null ? '' : whenWords(turn, other, promised),
    };
    const key = promised === null ? 'doctor.answered-by-other' : 'doctor.held-by-other';
    turn.post(id, { kind: 'tell', key, caseId, item: question.item, vars, lane: 'notice' }, { caseId });
  }
}

function promiseUntil(turn: Turn, question: Question): number {
  const { programme } = turn.world;
  const at = turn.now + promiseMs(programme, question);
  return programme.urgencies[question.urgency]?.daytime ? inDaytime(at, programme.zone, programme.daytime) : at;
}

/** What was answered, in this person's language: the choice, and the words after it between marks. */
export function answerWords(turn: Turn, person: Person, question: Question, answer: string, words: string): string {
  const known = question.options.some((one) => one.id === answer);
  const chosen = known ? turn.world.texts.label(person.locale, question.about, answer) : '';
  return [chosen, inMarks(words, longestQuoted)].filter((one) => one !== '').join(': ');
}

/** The hour, with its day unless that is today. */
export function whenWords(turn: Pick<Turn, 'world' | 'now'>, person: Person, at: number): string {
  const { zone } = siteOf(turn.world.programme, person.siteId);
  const today = localTime(turn.now, zone);
  const then = localTime(at, zone);
  const clock = clockWords(at, zone);
  if (today.day === then.day && today.month === then.month && today.year === then.year) return clock;
  return `${dayWordsAt(at, zone, turn.world.texts.months(person.locale))} ${clock}`;
}
