/** How a doctor answers: `47 1`, `47 words`, and a bare digit only where it can but add care. */
import { toAsciiDigits } from '../text/digits.ts';
import type { FlowQuestion } from './flow.ts';
import { askingThread, type Interpreter } from './interpret.ts';
import { durationOf, limitOf } from './programme.ts';
import { idleFrame, type Question } from './state.ts';
import type { Turn } from './turn.ts';
import type { Person } from './world.ts';

const tagged = /^[qQ]?\s?(\d{2,5})(?:[\s:.,-]+(.+))?$/s;

/** Begins the token of a button under a doctor's question; its reply carries the question's tag. */
export const doctorToken = 'doctor';

/** True: the text was an answer to a question of the ladder (or a failed try) and has been dealt with. */
export function readDoctorAnswer(turn: Turn, _interpreter: Interpreter, person: Person, text: string): boolean {
  if (!person.roles.includes('doctor')) return false;
  const words = toAsciiDigits(text).trim();
  // A digit belongs to the question asked last: a conversation of the doctor's own is repeated after every escalation.
  const asking = askingThread(turn) !== null;
  const bare = /^\d$/.test(words) ? words : null;
  if (bare !== null) return !asking && answerLatest(turn, person, bare);
  const found = tagged.exec(words);
  if (!found) return false;
  const tag = found[1]!;
  const rest = (found[2] ?? '').trim();
  const question = turn.questions.find((one) => one.tag === tag && one.askedOf.includes(person.id));
  if (!question) {
    // A code or a size is no tag.
    if (tag.length > 3 || rest === '' || asking) return false;
    wrongTag(turn, person);
    return true;
  }
  if (question.answeredAt !== null) {
    turn.say(person, 'doctor.too-late', { frame: null, caseId: question.caseId, vars: { q: tag } });
    if (question.caseId && rest !== '') turn.record(question.caseId, { type: 'noted', words: `Q${tag} ${rest}` });
    return true;
  }
  if (rest === '' && asking) return false;
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
  const own = turn.questions.filter((one) => one.answeredAt === null && one.askedOf.includes(person.id));
  const question = own.find((one) => one.id === turn.state.lastQuestionId);
  if (!question) {
    const other = own.at(-1);
    if (!other) return false;
    turn.say(person, 'doctor.needs-tag', { frame: null, caseId: null, vars: { example: `${other.tag} ${digit}` } });
    return true;
  }
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
  turn.state = { ...turn.state, lastAnswered: { ...question, answer } };
  releaseIfSame(turn, question, answer);
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

/**
 * A question that was taken back froze its case. The same answer again lets it go on; another one does not undo what the
 * clinic began on the first, so the case stays frozen until a doctor releases it.
 */
function releaseIfSame(turn: Turn, question: Question, answer: string): void {
  const of = turn.caseOf(question.caseId);
  const found = /^answer-taken-back:([^:]+):(.*)$/s.exec(of?.frozen ?? '');
  if (!of || found?.[1] !== question.about) return;
  if (found[2] === answer && answer !== 'words') turn.record(of.id, { type: 'released' });
  else turn.openQuestion(frozenQuestion, of.id, null);
}

/** Asked of the doctors when a case was called wrong: only they let it go on. */
export const frozenQuestion: FlowQuestion = {
  urgency: 'waiting',
  about: 'wrong',
  options: [
    { id: 'release', reply: '1', care: false },
    { id: 'keep', reply: '2', care: true },
    { id: 'call-me', reply: '3', care: true },
  ],
};

function wrongTag(turn: Turn, person: Person): void {
  const hour = durationOf(turn.world.programme, 'wrong-tag-window');
  const wrongAt = [...turn.state.wrongAt.filter((at) => at > turn.now - hour), turn.now].slice(-10);
  turn.state = { ...turn.state, wrongAt };
  turn.say(person, 'doctor.wrong-tag', { frame: null, caseId: null });
  if (wrongAt.length === limitOf(turn.world.programme, 'wrong-tags-an-hour')) {
    turn.notify('coordinators', 'doctor.many-wrong-tags', 'notice', null, null, { who: person.name });
  }
}
