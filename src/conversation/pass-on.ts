/** What a doctor may do with a question besides answering: pass it on, hand it back, take it over, say that it is done. */
import { ladder } from './people.ts';
import { isDoneSince } from './promise.ts';
import type { Question } from './state.ts';
import type { Turn } from './turn.ts';
import type { Person } from './world.ts';

/**
 * "Not me": the next rung is asked at once, also when this doctor had it in hand. With nobody left the ladder counts as
 * spent: the clinic gets the number to call. The question stays open for whoever was asked, this doctor too.
 */
export function passOn(turn: Turn, person: Person, question: Question): void {
  const next = ladder(turn.world, turn.now).find((one) => !question.askedOf.includes(one.id)) ?? null;
  release(turn, question, person.id);
  const { caseId } = question;
  if (caseId !== null)
    turn.record(caseId, {
      type: 'noted',
      words: turn.world.texts.render(person.locale, 'history.passed-on', () => question.tag),
    });
  turn.say(person, next ? 'doctor.passed' : 'doctor.nobody-else', {
    frame: null,
    caseId,
    item: question.item,
    vars: { q: question.tag, who: next?.name ?? '' },
  });
}

/** Takes a question out of a doctor's hands: no promise any more, the next rung at once. */
export function release(turn: Turn, question: Question, from: string): void {
  turn.putQuestion({ ...question, promiseUntil: null, answeredBy: null, answer: null });
  turn.post(
    null,
    { kind: 'climb', questionId: question.id, rung: question.rung + 1, not: from },
    { caseId: question.caseId },
  );
}

/** `1 needle 3 refer`, behind the question's tag: what decides it; a call decides nothing. */
export function choicesOf(turn: Turn, person: Person, question: Question): string {
  return question.options
    .filter((one) => one.id !== 'call-me')
    .map((one) => `${one.reply} ${turn.world.texts.label(person.locale, question.about, one.id)}`)
    .join(' ');
}

/** "Done": a promise was kept. Where a choice decides, the decision is asked for: the clinic waits for it. */
export function sayDone(turn: Turn, person: Person, question: Question): void {
  const of = turn.caseOf(question.caseId);
  const where = { frame: null, caseId: question.caseId, item: question.item };
  const decides = question.options.some((one) => !one.care);
  if (decides && !(of && isDoneSince(of, question, question.openedAt))) {
    const vars = { q: question.tag, replies: choicesOf(turn, person, question) };
    turn.say(person, 'doctor.which-decision', { ...where, vars });
    return;
  }
  const { caseId } = question;
  if (caseId !== null) {
    turn.record(caseId, { type: 'doctor-answered', question: question.id, answer: 'done', words: '' });
  }
  turn.putQuestion({ ...question, answeredAt: turn.now, answeredBy: person.id, answer: 'done', promiseUntil: null });
  turn.state = { ...turn.state, lastAnswered: { ...question, answer: 'done' } };
  const vars = { q: question.tag, by: person.name };
  for (const id of question.askedOf) {
    if (id === person.id) continue;
    const what = {
      kind: 'tell',
      key: 'doctor.done-by-other',
      caseId,
      item: question.item,
      vars,
      lane: 'notice',
    } as const;
    turn.post(id, what, { caseId });
  }
  turn.say(person, 'doctor.done', { ...where, vars });
}

/** `TAKE 47`: another doctor's question comes to this one too. It shows the question and answers nothing. */
export function takeQuestion(turn: Turn, person: Person, tag: string): boolean {
  const question = turn.questions.find((one) => one.tag === tag && one.answeredAt === null);
  if (!question) return false;
  if (!question.askedOf.includes(person.id)) {
    turn.putQuestion({ ...question, askedOf: [...question.askedOf, person.id] });
    const vars = { q: question.tag, who: person.name };
    const { caseId, item } = question;
    for (const id of question.askedOf) {
      const what = { kind: 'tell', key: 'doctor.taken-by', caseId, item, vars, lane: 'notice' } as const;
      turn.post(id, what, { caseId });
    }
  }
  turn.post(
    person.id,
    { kind: 'ask-doctor', questionId: question.id, rung: question.rung },
    { caseId: question.caseId },
  );
  return true;
}
