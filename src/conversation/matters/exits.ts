/** REFUSES, GONE, NOTDONE, LATER: what did not happen, with what is owed then. A flow says where a word leads (`exit.…`). */

import { answered } from '../../case/answers.ts';
import { beforeNeedleStatuses, needleStatuses } from '../../case/bedside.ts';
import { answerOf, type Case } from '../../case/case.ts';
import { needleWasIn } from '../../case/parcel.ts';
import type { KeyIn } from '../../generated/text-keys.ts';
import { foldWord } from '../../text/fold.ts';
import { type ExitKind, exitReply, exitWords } from '../exits.ts';
import { isFrozen, sayFrozen } from '../frozen.ts';
import { hearAnswer } from '../hear.ts';
import { askingThread, type Interpreter, stateOf, topFrame } from '../interpret.ts';
import { type Act, type Command, type Matter, type Moment, record } from '../moment.ts';
import { openAlarms } from '../open-alarm.ts';
import { durationOf } from '../programme.ts';
import type { Thread } from '../state.ts';
import type { Turn } from '../turn.ts';
import { closeQuestion, settleQuestion } from './close-question.ts';
import { caseByCode, codesIn, refuseCode, withoutCodes } from './codes.ts';

/** Before a needle, and which way the patient went. */
const ways = ['refuses', 'gone', 'later', 'referral'] as const;

function sayHere(turn: Turn, interpreter: Interpreter, key: KeyIn<'left'>, of: Case | null, kind: ExitKind): void {
  const word = turn.world.texts.keywordShown(interpreter.person.locale, exitWords[kind]);
  turn.say(interpreter.person, `left.${key}`, { frame: null, caseId: of?.id ?? null, vars: { word } });
}

/** Of several conversations about a case the one that asks, else the newest. */
function threadOf(turn: Turn, caseId: string): Thread | null {
  const own = turn.threads.filter((one) => one.caseId === caseId);
  return own.findLast((one) => one.ask !== null) ?? own.at(-1) ?? null;
}

/** The conversation that the word is about; null: it cannot be known, which has been said. */
function meant(turn: Turn, interpreter: Interpreter, rest: string, kind: ExitKind): Thread | null {
  const { person } = interpreter;
  const { codes, wrong } = codesIn(rest);
  if (codes[0] !== undefined || wrong.length > 0) {
    const of = codes[0] === undefined ? null : caseByCode(turn, person, codes[0]);
    if (!of && codes[0] === undefined) turn.say(person, 'desk.wrong-code', { frame: null, caseId: null });
    else if (!of) refuseCode(turn, person, codes[0]!);
    const found = of ? threadOf(turn, of.id) : null;
    if (of && !found) sayHere(turn, interpreter, 'not-with-you', of, kind);
    return found;
  }
  const tag = foldWord(withoutCodes(rest).split(/\s/)[0] ?? '');
  const withCase = turn.threads.filter((one) => one.caseId !== null);
  const named = withCase.filter((one) => tag !== '' && foldWord(turn.caseOf(one.caseId)?.tag ?? '') === tag).at(-1);
  if (named) return threadOf(turn, named.caseId!);
  const asking = askingThread(turn);
  const here = asking ?? withCase.at(-1) ?? null;
  if (here === null || here.caseId === null) {
    sayHere(turn, interpreter, 'no-patient', null, kind);
    return null;
  }
  const window = durationOf(turn.world.programme, 'forget-ask');
  const others = withCase.filter((one) => one.caseId !== here.caseId && one.ask !== null);
  const isOld = here.ask !== null && turn.now - here.ask.askedAt > window;
  if (others.some((one) => isOld || turn.now - one.ask!.askedAt <= window)) {
    sayHere(turn, interpreter, 'which', turn.caseOf(here.caseId), kind);
    return null;
  }
  return here;
}

function hear(kind: ExitKind): Command['run'] {
  return (turn, interpreter, rest) => {
    turn.disturbed = true;
    const thread = meant(turn, interpreter, rest, kind);
    const of = turn.caseOf(thread?.caseId ?? null);
    const frame = thread ? topFrame(thread) : null;
    if (!thread || !of || !frame) return;
    turn.aboutCaseId = of.id;
    const alarm = openAlarms(turn).find((one) => one.caseId === of.id || one.caseId === null);
    if (alarm) {
      sayHere(turn, interpreter, 'in-alarm', of, kind);
      interpreter.raise(alarm.id);
      return;
    }
    if (isFrozen(turn, thread)) {
      sayFrozen(turn, interpreter.person, of.id);
      return;
    }
    const reply = thread.ask ? exitReply(thread.ask, kind) : null;
    if (reply !== null) {
      interpreter.raise(thread.id);
      hearAnswer(turn, interpreter.person, interpreter.thread(thread.id)!, reply);
      return;
    }
    const needleFirst = of.status === 'sampling' && !needleWasIn(of) && kind !== 'not-done';
    if (needleFirst && !(kind === 'refuses' && interpreter.has(frame, 'exit.refuses'))) {
      sayHere(turn, interpreter, 'needle-first', of, kind);
      return;
    }
    const isLater = kind === 'later' && (needleWasIn(of) || thread.ask?.kind === 'date');
    // An appointment can be moved, whatever was done before it.
    const isOwn = stateOf(turn, frame)?.transitions.has(`exit.${kind}`) === true;
    if ((isOwn || !isLater) && interpreter.has(frame, `exit.${kind}`)) {
      const vars = { ...frame.vars, exit: kind };
      interpreter.put({ ...thread, frames: [...thread.frames.slice(0, -1), { ...frame, vars }] });
      interpreter.raise(thread.id);
      interpreter.take(thread.id, `exit.${kind}`);
      return;
    }
    const saysPatient = /\p{L}/u.test(rest) && foldWord(rest) !== foldWord(of.tag);
    const key = whyNot(of, thread, kind, saysPatient);
    if (key === 'gone-noted') turn.record(of.id, { type: 'noted', words: `${exitWords[kind]} ${rest}`.trim() });
    sayHere(turn, interpreter, key, of, kind);
  };
}

/** SEEN, before the day on which it would be asked: the patient was where the appointment sent them. */
function hearSeen(turn: Turn, interpreter: Interpreter, rest: string): void {
  turn.disturbed = true;
  const tag = foldWord(withoutCodes(rest).split(/\s/)[0] ?? '');
  const { codes } = codesIn(rest);
  const isMeant = (of: Case): boolean =>
    rest === '' || foldWord(of.tag) === tag || of.specimens.some((one) => codes.includes(one.code));
  const booked = turn.threads.filter((one) => {
    const of = turn.caseOf(one.caseId);
    const frame = topFrame(one);
    return of !== null && frame !== null && isMeant(of) && interpreter.has(frame, 'said.seen');
  });
  const [only] = booked;
  const of = turn.caseOf(only?.caseId ?? null);
  if (!only || !of || booked.length > 1) {
    const key = booked.length > 1 ? 'left.seen-which' : 'left.seen-nobody';
    turn.say(interpreter.person, key, { frame: null, caseId: of?.id ?? null });
    return;
  }
  turn.aboutCaseId = of.id;
  if (isFrozen(turn, only)) sayFrozen(turn, interpreter.person, of.id);
  else interpreter.take(only.id, 'said.seen');
}

/** Nothing is changed: what is true here, and what to send instead. */
function whyNot(of: Case, thread: Thread, kind: ExitKind, saysPatient: boolean): KeyIn<'left'> {
  if (kind === 'not-done') return needleWasIn(of) ? 'was-in' : 'none-in';
  if (kind === 'later' && needleWasIn(of)) return 'later-refused';
  if (kind === 'later' && thread.ask?.kind === 'date') return 'send-day';
  if (kind === 'refuses' && needleStatuses.has(of.status)) return 'refuses-watch';
  if (kind === 'gone' && (of.status === 'posting' || of.status === 'posted' || of.status === 'received'))
    return saysPatient ? 'gone-noted' : 'gone-which';
  return 'cannot';
}

/** What waits for a doctor's word no longer waits, and a referral that was advised stands. */
function leave(moment: Moment): readonly Act[] {
  const of = moment.case!;
  const how = moment.frame.vars.exit as ExitKind;
  const why = referredAs(of);
  return [
    ...closeQuestion(moment, 'patient-left', 'left.over-for-doctor'),
    ...(how === 'later' ? [] : [record(answered('left', how))]),
    ...(why !== null && of.notSampled === null ? [record({ type: 'not-sampled' as const, why, reviewOn: null })] : []),
    { do: 'vars', vars: { notDone: null } },
  ];
}

function leftOver(moment: Moment): readonly Act[] {
  const { now, person, questions } = moment;
  const ending = { now, by: person.id, answer: 'patient-here', tell: 'left.here-for-doctor' } as const;
  // Asked from another conversation, and perhaps from a colleague's phone.
  const asked = questions.filter(
    (one) => one.about === 'patient-left' && one.caseId === moment.case!.id && one.answeredAt === null,
  );
  return [
    ...asked.flatMap((one) => settleQuestion(one, ending)),
    record(answered('left', null)),
    record({ type: 'reached', specimen: null }),
  ];
}

/** The referral that the decision asked for, where no needle was agreed beside it. */
function referredAs(of: Case): string | null {
  if (of.status !== 'decision') return null;
  if (of.decided?.decision === 'refer-urgent') return 'referred-urgently';
  return of.decided?.decision === 'refer-first' ? 'referred' : null;
}

export const exits: Matter = {
  commands: {
    REFUSES: { roles: ['worker'], everyday: true, run: hear('refuses') },
    GONE: { roles: ['worker'], everyday: true, run: hear('gone') },
    NOTDONE: { roles: ['worker'], everyday: true, run: hear('not-done') },
    LATER: { roles: ['worker'], everyday: true, run: hear('later') },
    SEEN: { roles: ['worker'], everyday: true, run: hearSeen },
  },
  decisions: {
    'left-how': {
      outcomes: ways,
      decide: (m) => {
        const how = m.frame.vars.exit as Exclude<ExitKind, 'not-done'>;
        return how === 'later' && m.case!.notSampled !== null ? 'referral' : how;
      },
    },
    'left-urgency': {
      outcomes: ['today', 'usual'],
      decide: (m) => {
        const signs = answerOf(m.case!, 'dangerSigns') ?? [];
        const isSign = signs.some((one) => one !== 'unknown');
        return isSign || m.case!.notSampled?.why === 'referred-urgently' ? 'today' : 'usual';
      },
    },
    'day-stands': {
      outcomes: ['yes', 'no'],
      decide: (m) => (beforeNeedleStatuses.has(m.case!.status) ? 'yes' : 'no'),
    },
    'left-back': {
      outcomes: ['findings', 'decision', 'readiness'],
      decide: (m) => {
        const { status } = m.case!;
        return status === 'findings' || status === 'decision' ? status : 'readiness';
      },
    },
  },
  recorders: {
    left: leave,
    'left-over': leftOver,
    // Under another entry: whoever looked for the patient, or waited for a day, is asked no more.
    'here-again': (m) => [
      { do: 'end-threads', caseId: m.case!.id, traits: { endsWhen: 'here-again' } },
      ...((answerOf(m.case!, 'left') ?? null) === null ? [] : leftOver(m)),
    ],
    'left-settled': () => [record(answered('left', null))],
    'gone-unwatched': (m) => [record({ type: 'noted', words: m.world.texts.keywordShown(m.person.locale, 'GONE') })],
    'referral-seen': () => [record(answered('referral-seen', 'seen'))],
    'referral-refused': () => [record(answered('referral-again', 'refuses'))],
    'neck-by-phone': (m) => closeQuestion(m, String(m.answer), 'left.neck-for-doctor'),
    'neck-unknown': () => [record(answered('neck', 'unknown'))],
  },
  values: {
    leftHow: {
      of: (m) => {
        const how = m.case ? (answerOf(m.case, 'left') ?? null) : null;
        // Asked once more, after it was settled.
        const key = how === null ? 'doctor.why-before' : how === 'refuses' ? 'left.how-refuses' : 'left.how-gone';
        return m.world.texts.render(m.person.locale, key, () => '');
      },
      sample: 'the patient REFUSES',
    },
  },
};
