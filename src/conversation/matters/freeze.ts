/** A worker's WRONG: it says what it does, freezes the case for a doctor, and may be taken back while nobody else acted. */
import { needleStatuses } from '../../case/bedside.ts';
import type { Case } from '../../case/case.ts';
import { toAsciiDigits } from '../../text/digits.ts';
import { frozenFor, frozenQuestion } from '../frozen-question.ts';
import { countWrongDigits, secretWidth, secretWidthOf } from '../guesses.ts';
import { type Interpreter, topFrame } from '../interpret.ts';
import { type Act, type Matter, type Moment, record } from '../moment.ts';
import { durationOf } from '../programme.ts';
import type { Question, Thread } from '../state.ts';
import type { Turn } from '../turn.ts';
import { closeQuestion } from './close-question.ts';
import { clockText, readerZone } from './common.ts';

/** Why a case is frozen that somebody called wrong. */
const calledWrong = 'wrong';

/** Begins the question whether to freeze this case, unless it is being asked. */
export function askToFreeze(turn: Turn, interpreter: Interpreter, of: Case): void {
  const asked = turn.threads.find(
    (one) => one.caseId === of.id && topFrame(one)?.flow === 'freeze' && one.ask !== null,
  );
  if (asked) interpreter.show(asked.id);
  else interpreter.run('freeze', { caseId: of.id });
}

/**
 * `YES 4718`: the clinic takes its own WRONG back. False: nothing of this phone is frozen by it, and the word may be
 * somebody else's.
 */
export function releaseOwn(turn: Turn, interpreter: Interpreter, rest: string): boolean {
  const { person } = interpreter;
  const held = turn.threads.filter((one) => one.ask === null && releaseDigits(one) !== '');
  if (held.length === 0) return false;
  turn.disturbed = true;
  const digits = toAsciiDigits(rest).replace(/\D/g, '');
  const meant = held.find((one) => releaseDigits(one) === digits);
  if (!meant) {
    const longer = digits !== '' && countWrongDigits(turn, person, 'secret');
    turn.say(person, 'freeze.wrong-digits', { frame: null, caseId: held.at(-1)!.caseId });
    if (longer) for (const one of held) lengthen(turn, interpreter, one);
    return true;
  }
  const of = turn.caseOf(meant.caseId);
  const question = openQuestionOf(turn.questions, meant.caseId);
  const where = { frame: null, caseId: meant.caseId };
  if (of?.frozen !== calledWrong) {
    turn.say(person, of?.frozen ? 'freeze.not-yours' : 'freeze.over', where);
    return true;
  }
  const by = actedSince(turn, meant, person.id);
  if (by !== null || !question) {
    const who = turn.world.roster.find((one) => one.id === by)?.name ?? '';
    turn.say(person, who === '' ? 'freeze.not-yours' : 'freeze.acted-since', { ...where, vars: { who } });
    return true;
  }
  turn.aboutCaseId = meant.caseId;
  interpreter.take(meant.id, 'clinic.released');
  // What waited for the release, however it came.
  for (const thread of turn.threads.filter((one) => one.caseId === meant.caseId)) {
    interpreter.take(thread.id, 'case.released');
  }
  return true;
}

/** Somebody tries digits: those that were shown are worth nothing any more, and the phone reads longer ones. */
function lengthen(turn: Turn, interpreter: Interpreter, thread: Thread): void {
  const top = topFrame(thread)!;
  const frame = { ...top, vars: { ...top.vars, release: turn.draw.digits(secretWidth(turn)) } };
  interpreter.put({ ...thread, frames: [...thread.frames.slice(0, -1), frame] });
  turn.say(interpreter.person, 'freeze.frozen', { frame, caseId: thread.caseId });
}

/** Digits that take back this thread's freeze; none: it froze nothing. */
function releaseDigits(thread: Thread): string {
  const frame = topFrame(thread);
  return frame?.flow === 'freeze' && typeof frame.vars.release === 'string' ? frame.vars.release : '';
}

function openQuestionOf(questions: readonly Question[], caseId: string | null): Question | undefined {
  return questions.find(
    (one) => one.caseId === caseId && one.about === frozenQuestion.about && one.answeredAt === null,
  );
}

/** Who else has answered anything about the case since it was frozen; null: nobody. */
function actedSince(turn: Turn, thread: Thread, own: string): string | null {
  const since = topFrame(thread)!.since;
  const acted = turn.questions.find(
    (one) =>
      one.caseId === thread.caseId &&
      one.answeredBy !== null &&
      one.answeredBy !== own &&
      (one.answeredAt === null || one.answeredAt >= since),
  );
  return acted?.answeredBy ?? null;
}

function freeze(m: Moment): readonly Act[] {
  const asked = openQuestionOf(m.questions, m.case!.id);
  return [
    ...(m.case!.frozen === null ? [record({ type: 'frozen', why: calledWrong })] : []),
    ...(asked ? [] : [{ do: 'question', question: frozenFor(m.case!) } as const]),
    { do: 'vars', vars: { release: m.draw.digits(secretWidthOf(m)) } },
  ];
}

/** The doctors who were asked hear that there is nothing to look at. */
function release(m: Moment): readonly Act[] {
  const question = openQuestionOf(m.questions, m.case!.id);
  const frame = { ...m.frame, vars: { ...m.frame.vars, question: question?.id ?? null } };
  return [record({ type: 'released' }), ...closeQuestion({ ...m, frame }, 'taken-back', 'freeze.for-doctor')];
}

export const freezeMatter: Matter = {
  decisions: {
    'may-freeze': {
      outcomes: ['yes', 'needle', 'watched', 'no'],
      decide: (m) => {
        if (!m.case || m.case.closed !== null) return 'no';
        if (m.case.status === 'aftercare') return 'watched';
        return needleStatuses.has(m.case.status) ? 'needle' : 'yes';
      },
    },
  },
  recorders: { freeze, release },
  values: {
    freezeAt: {
      of: (m) => clockText(m.now + durationOf(m.world.programme, 'waiting-answer'), readerZone(m)),
      sample: '11:05',
    },
    release: { of: (m) => String(m.frame.vars.release ?? ''), sample: '4718', fromVar: true },
  },
};
