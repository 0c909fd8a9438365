/** How a doctor answers: `47 1`, `47 words`, and a bare digit only where it can but add care. */
import { toAsciiDigits } from '../text/digits.ts';
import type { Interpreter } from './interpret.ts';
import { durationOf, limitOf } from './programme.ts';
import { idleFrame, type Question } from './state.ts';
import type { Turn } from './turn.ts';
import type { Person } from './world.ts';

const tagged = /^[qQ]?\s?(\d{2,5})(?:[\s:.,-]+(.+))?$/s;

/** True: the text was an answer to a question of the ladder (or a failed try) and has been dealt with. */
export function readDoctorAnswer(turn: Turn, _interpreter: Interpreter, person: Person, text: string): boolean {
  if (!person.roles.includes('doctor')) return false;
  const words = toAsciiDigits(text).trim();
  const bare = /^\d$/.test(words) ? words : null;
  if (bare !== null) return answerLatest(turn, person, bare);
  const found = tagged.exec(words);
  if (!found) return false;
  const tag = found[1]!;
  const rest = (found[2] ?? '').trim();
  const question = turn.questions.find((one) => one.tag === tag && one.askedOf.includes(person.id));
  if (!question) {
    // A code or a size is no tag.
    if (tag.length > 3 || rest === '') return false;
    wrongTag(turn, person);
    return true;
  }
  if (question.answeredAt !== null) {
    turn.say(person, 'doctor.too-late', { frame: null, caseId: question.caseId, vars: { q: tag } });
    if (question.caseId) turn.record(question.caseId, { type: 'noted', words: rest });
    return true;
  }
  if (rest === '') {
    turn.say(person, 'doctor.what-answer', { frame: null, caseId: question.caseId, vars: { q: tag } });
    return true;
  }
  const digit = /^(\d)(?:\s+(.*))?$/s.exec(rest);
  const option = digit ? question.options.find((one) => one.reply === digit[1]) : undefined;
  if (digit && !option && !digit[2]) {
    turn.say(person, 'doctor.not-a-choice', {
      frame: null,
      caseId: question.caseId,
      vars: { q: tag, replies: question.options.map((one) => `${tag} ${one.reply}`).join(', ') },
    });
    return true;
  }
  settle(turn, person, question, option?.id ?? 'words', option ? (digit?.[2] ?? '') : rest);
  return true;
}

function answerLatest(turn: Turn, person: Person, digit: string): boolean {
  const question = turn.questions.find((one) => one.id === turn.state.lastQuestionId);
  if (!question || question.answeredAt !== null || !question.askedOf.includes(person.id)) return false;
  const option = question.options.find((one) => one.reply === digit);
  if (option?.care) {
    settle(turn, person, question, option.id, '');
    return true;
  }
  turn.say(person, 'doctor.needs-tag', {
    frame: null,
    caseId: question.caseId,
    vars: { q: question.tag, example: `${question.tag} ${digit}` },
  });
  return true;
}

function settle(turn: Turn, person: Person, question: Question, answer: string, words: string): void {
  turn.aboutCaseId = question.caseId;
  turn.answerQuestion(question.id, answer, words);
  turn.state = { ...turn.state, lastAnswered: question };
  // A new answer to a question that was taken back lets the case go on.
  const of = turn.caseOf(question.caseId);
  if (of?.frozen === `answer-taken-back:${question.about}`) turn.record(of.id, { type: 'released' });
  const consequence = turn.registry.doctorAnswers.get(question.about);
  const frame = { ...idleFrame, item: question.item };
  if (consequence) {
    const moment = turn.moment(frame, question.caseId, person);
    turn.carryOut(consequence(moment, question, answer), frame, question.caseId);
  }
  const option = question.options.find((one) => one.id === answer);
  const label = option ? turn.world.texts.label(person.locale, question.about, option.id) : words;
  turn.say(person, 'doctor.noted', {
    frame: null,
    caseId: question.caseId,
    item: question.item,
    vars: { q: question.tag, answer: label },
  });
}

function wrongTag(turn: Turn, person: Person): void {
  const hour = durationOf(turn.world.programme, 'wrong-tag-window');
  const wrongAt = [...turn.state.wrongAt.filter((at) => at > turn.now - hour), turn.now].slice(-10);
  turn.state = { ...turn.state, wrongAt };
  turn.say(person, 'doctor.wrong-tag', { frame: null, caseId: null });
  if (wrongAt.length === limitOf(turn.world.programme, 'wrong-tags-an-hour')) {
    turn.notify('coordinators', 'doctor.many-wrong-tags', 'notice', null, null, { who: person.name });
  }
}
