/** What a due row does in the conversation it is for: a timer, a text, a flow, a doctor's answer, a hand-over. */

import { assertNever } from '../clinical/assert-never.ts';
import { inMarks, longestQuoted } from '../text/one-line.ts';
import { clockWords } from '../text/time-words.ts';
import { callBackText } from './call-back.ts';
import { putOff } from './daily.ts';
import { closesInHand } from './ended-by-hand.ts';
import type { Due } from './event.ts';
import { frozenQuestion } from './frozen-question.ts';
import { askingThread, Interpreter, stateOf, topFrame } from './interpret.ts';
import { speakPlainly } from './keep-voice.ts';
import { carryOn, giveKept, isTakenBack } from './left-behind.ts';
import { asksOfNeedle, isNoToNeedle } from './matters/no-to-needle.ts';
import { showLatePicture } from './matters/pictures.ts';
import { tellAgain } from './matters/raise-alarm.ts';
import { tellStock } from './matters/stock.ts';
import { beginAnew } from './mend.ts';
import { areServed } from './move-on.ts';
import { tellOverview } from './overview.ts';
import { missPart } from './parts.ts';
import { durationOf, siteOf } from './programme.ts';
import { isUndecided } from './promise.ts';
import { saidByQuestion, waitsItsTurn } from './reminders.ts';
import { inRoster } from './roster-index.ts';
import { showQuestion } from './show-question.ts';
import { countSilence } from './silence.ts';
import { changeStanding, handOverCase, takeWhatIsLeft } from './standing.ts';
import { type Frame, idleFrame, type Thread } from './state.ts';
import type { Turn } from './turn.ts';
import { tellUnknownAlarm } from './unknown-alarms.ts';
import { sayWelcome } from './welcome.ts';
import type { Person } from './world.ts';

/** A timer that fires so much after its time is late: the line was away. */
const lateAfterMs = 120_000;

/** Handles a due row of a person. */
export function wakePerson(turn: Turn, person: Person, due: Due): void {
  const interpreter = new Interpreter(turn, person);
  const what = due.what;
  switch (what.kind) {
    case 'timer':
      fire(turn, interpreter, due, what);
      return;
    case 'tell':
      if (isSettled(turn, what) || isTakenSince(turn, person, what) || isOwedNoMore(turn, what)) return;
      if (held(turn, person, due) || putOff(turn, person, due)) return;
      if (saidByQuestion(turn, interpreter, what)) return;
      turn.say(person, what.key, {
        frame: null,
        caseId: what.caseId,
        item: what.item,
        vars: Object.fromEntries(Object.entries(what.vars).map(([name, value]) => [name, String(value)])),
        lane: what.lane,
        first: what.first === true,
        ...subjectOf(what),
      });
      turn.disturbed = true;
      return;
    case 'run':
      takeWhatIsLeft(turn, person, what.caseId);
      if (held(turn, person, due)) return;
      if (what.plain !== undefined) speakPlainly(turn, what.plain);
      endFormer(turn, interpreter, what);
      interpreter.run(what.flow, { caseId: what.caseId, item: what.item, vars: what.vars });
      turn.disturbed = true;
      return;
    case 'answered':
      if (due.name === 'kept' && isTakenBack(turn, what)) return;
      if (due.name !== 'held' && sayAtTheNeedle(turn, person, what)) return;
      if (!isAwaited(turn, person, what.questionId) && held(turn, person, due)) return;
      doctorAnswered(turn, interpreter, person, what);
      return;
    case 'ask-doctor':
      if (!isAlarm(turn, what.questionId) && held(turn, person, due)) return;
      showQuestion(turn, person, what.questionId, what.again === true);
      return;
    case 'picture':
      showLatePicture(turn, person, what);
      return;
    case 'part-missing':
      missPart(turn, person, what);
      return;
    case 'hand-over':
      handOverCase(turn, interpreter, what);
      giveKept(turn, what.to, what.caseId);
      return;
    case 'receive':
      receive(turn, interpreter, what.caseId, what.frames);
      return;
    case 'standing':
      changeStanding(turn, interpreter, what);
      return;
    case 'overview':
      tellOverview(turn, person, what);
      return;
    case 'welcome':
      if (!held(turn, person, due)) sayWelcome(turn, person);
      return;
    case 'stock':
      tellStock(turn, person, what);
      return;
    case 'mend':
      // What is lost was let go already.
      if (what.freshBy !== null) beginAnew(turn, person, what.freshBy);
      return;
    case 'alarm-again':
      tellAgain(turn, interpreter, what.frameId);
      return;
    case 'unknown-alarm':
      tellUnknownAlarm(turn, person, what.from, what.answered !== false);
      return;
    case 'line-back':
      lineBack(turn, person, what.since);
      return;
    case 'climb':
    case 'overdue':
    case 'look-again':
    case 'undelivered':
    case 'trouble':
      throw new Error(`${what.kind} is not for a person`);
    default:
      assertNever(what);
  }
}

/** True: what is to be said is of a question that was answered, or closed at the clinic, meanwhile. */
function isSettled(turn: Turn, { questionId }: Due['what'] & { kind: 'tell' }): boolean {
  return turn.questions.find((one) => one.id === questionId)?.answeredAt != null;
}

/** True: a case was given to somebody with gloves on, and a colleague took it before they could read so. */
function isTakenSince(turn: Turn, person: Person, { key, caseId }: Due['what'] & { kind: 'tell' }): boolean {
  const of = turn.caseOf(caseId);
  return key === 'people.given' && of !== null && of.ownerId !== person.id;
}

/** True: a reminder of a case waited, for gloves or for the morning, and the case is closed and owed nothing more. */
function isOwedNoMore(turn: Turn, { key, caseId }: Due['what'] & { kind: 'tell' }): boolean {
  return key.split('.')[0] === 'duty' && turn.caseOf(caseId)?.closed != null;
}

/** One line to whoever is in the middle of something; their question comes again behind it. */
function lineBack(turn: Turn, person: Person, since: number): void {
  const asking = askingThread(turn);
  if (!asking?.ask) return;
  const zone = siteOf(turn.world.programme, person.siteId).zone;
  turn.say(person, 'common.line-back', {
    frame: null,
    caseId: asking.caseId,
    vars: { away: clockWords(since, zone) },
  });
  turn.disturbed = true;
}

/** A flow begun anew for the same matter (an amended result) ends its former self, with its timers. */
function endFormer(turn: Turn, interpreter: Interpreter, what: Due['what'] & { kind: 'run' }): void {
  for (const thread of turn.threads) {
    const bottom = thread.frames[0];
    const same = bottom?.flow === what.flow && bottom.item === what.item && thread.caseId === what.caseId;
    if (!same || what.caseId === null) continue;
    for (const frame of thread.frames) turn.cancelTimers(frame.id);
    interpreter.remove(thread.id);
  }
}

/**
 * A doctor's no goes through the quiet as two short sentences; what else the answer says comes after the slides. Own words may
 * be a no that nobody but a reader can tell, so that they go through too. True: there is nothing left to say.
 */
function sayAtTheNeedle(turn: Turn, person: Person, what: Due['what'] & { kind: 'answered' }): boolean {
  const here = turn.threads.some((thread) => {
    const frame = topFrame(thread);
    return thread.caseId === what.caseId && frame !== null && stateOf(turn, frame)?.quiet === true;
  });
  if (!here) return false;
  const about = turn.questions.find((one) => one.id === what.questionId)?.about ?? '';
  const unasked = { frame: null, caseId: what.caseId, lane: 'sos' } as const;
  if (isNoToNeedle(about, what.answer)) {
    turn.say(person, 'sampling.doctor-stop', unasked);
    return false;
  }
  const written = inMarks(what.words, longestQuoted);
  if (written === '' || isAwaited(turn, person, what.questionId)) return false;
  const doctor = inRoster(turn.world.roster, what.by)?.name ?? '';
  turn.say(person, 'sampling.doctor-words', { ...unasked, vars: { doctor, words: written } });
  return about === 'asked' && what.answer === 'words';
}

/** Gloves are on: everything but first aid, a doctor's stop and a doctor's own words waits, at most the programme's quiet time. */
function held(turn: Turn, person: Person, due: Due): boolean {
  if (due.name === 'held') return false;
  if (due.what.kind === 'tell' && due.what.lane === 'sos') return false;
  const quiet = turn.threads.some((thread) => {
    const frame = topFrame(thread);
    return frame !== null && stateOf(turn, frame)?.quiet === true;
  });
  if (!quiet) return false;
  if (closesInHand(turn, due)) {
    turn.releaseHeld();
    return false;
  }
  turn.post(person.id, due.what, {
    at: turn.now + durationOf(turn.world.programme, 'quiet-at-most'),
    caseId: due.caseId,
    name: 'held',
  });
  return true;
}

function fire(turn: Turn, interpreter: Interpreter, due: Due, what: Due['what'] & { kind: 'timer' }): void {
  const thread = turn.threads.find((one) => one.frames.some((frame) => frame.id === what.frameId));
  const frame = thread?.frames.find((one) => one.id === what.frameId);
  if (!thread || !frame || frame.entry !== what.entry) return;
  const lateMs = turn.now - due.dueAt;
  if (what.late === 'skip' && lateMs > lateAfterMs) return;
  if (topFrame(thread)?.id !== frame.id) {
    // Something runs on top (first aid): the timer waits for it and is looked at again shortly; after hours, less often.
    const soon = durationOf(turn.world.programme, 'timer-behind');
    const waitMs = Math.min(60 * soon, Math.max(soon, Math.round((turn.now - frame.since) / 10)));
    turn.post(interpreter.person.id, what, {
      at: turn.now + waitMs,
      caseId: due.caseId,
      name: what.name,
      frameId: frame.id,
    });
    return;
  }
  if (waitsItsTurn(turn, interpreter, due, thread.id)) return;
  if (what.late === 'say-when' && lateMs > lateAfterMs) {
    const vars = { ...frame.vars, lateMinutes: Math.round(lateMs / 60_000) };
    interpreter.put({ ...thread, frames: [...thread.frames.slice(0, -1), { ...frame, vars }] });
    turn.say(interpreter.person, 'common.line-was-late', {
      frame: null,
      caseId: thread.caseId,
      vars: { minutes: String(Math.round(lateMs / 60_000)) },
    });
  }
  const here = interpreter.thread(thread.id)!;
  const top = topFrame(here)!;
  const state = stateOf(turn, top);
  if (state) {
    const counted = countSilence(turn, here, top, state, what.name);
    interpreter.put({ ...here, frames: [...here.frames.slice(0, -1), counted] });
  }
  interpreter.take(thread.id, `timer.${what.name}`);
  turn.disturbed = true;
}

function doctorAnswered(
  turn: Turn,
  interpreter: Interpreter,
  person: Person,
  what: Due['what'] & { kind: 'answered' },
): void {
  const question = turn.questions.find((one) => one.id === what.questionId) ?? null;
  const about = question?.about ?? 'question';
  const doctor = inRoster(turn.world.roster, what.by)?.name ?? '';
  const option = question?.options.find((one) => one.id === what.answer);
  const label = option ? turn.world.texts.label(person.locale, about, option.id) : '';
  const written = inMarks(what.words, longestQuoted);
  const call = what.answer === 'call-me' ? callBackText(turn, person, question, what.by) : '';
  const said = [label, written].filter((one) => one !== '').join(': ');
  const vars = { answer: what.answer, words: `${said}${call}`, doctor };
  // Words beside a choice that decides are no decision, however they sound: no conversation goes on with them.
  if (question && option === undefined && written !== '' && isUndecided(question)) {
    const key = asksOfNeedle(question) ? 'common.doctor-writes-no-needle' : 'common.doctor-writes';
    turn.say(person, key, { frame: null, caseId: what.caseId, item: question.item, vars });
    turn.disturbed = true;
    return;
  }
  if (about === frozenQuestion.about && what.answer === 'release' && what.caseId !== null) {
    turn.carryOut(
      [{ do: 'end-threads', caseId: what.caseId, traits: { endsWhen: 'released' } }],
      idleFrame,
      what.caseId,
    );
  }
  for (const thread of [...turn.threads].reverse()) {
    if (what.caseId !== null && thread.caseId !== what.caseId) continue;
    const frame = topFrame(thread);
    if (!frame) continue;
    const waited = frame.vars.question;
    const own = waited === what.questionId || (question?.instead !== undefined && waited === question.instead);
    if (!own && isOfOther(question?.item ?? null, frame.item)) continue;
    const names = own ? [`answer.${what.answer}`, 'answer'] : [];
    for (const name of [...names, `${about}.${what.answer}`, about]) {
      if (!interpreter.has(frame, name)) continue;
      interpreter.put({
        ...thread,
        frames: [...thread.frames.slice(0, -1), { ...frame, vars: { ...frame.vars, ...vars } }],
      });
      interpreter.take(thread.id, name);
      turn.disturbed = true;
      return;
    }
  }
  keepForLater(turn, interpreter, what.questionId, vars);
  turn.say(person, 'common.doctor-says', { frame: null, caseId: what.caseId, item: question?.item ?? null, vars });
  turn.disturbed = true;
}

/** What waits for this answer lies under something else, an alarm: it is taken when that is over. */
function keepForLater(turn: Turn, interpreter: Interpreter, questionId: string, vars: Frame['vars']): void {
  for (const thread of turn.threads) {
    const frames = thread.frames.map((one, index) =>
      index < thread.frames.length - 1 && one.vars.question === questionId
        ? { ...one, vars: { ...one.vars, ...vars, heard: vars.answer ?? null } }
        : one,
    );
    if (frames.some((one, index) => one !== thread.frames[index])) interpreter.put({ ...thread, frames });
  }
}

/** Both name a specimen, and not the same one. */
function isOfOther(asked: string | null, item: string | null): boolean {
  return asked !== item && (asked?.startsWith('s') ?? false) && (item?.startsWith('s') ?? false);
}

/** Texts besides reminders of a duty that say the same again: only the newest is worth reading. */
const saidAgain: ReadonlySet<string> = new Set([
  'common.nobody-answers',
  'common.ladder-spent',
  'common.ladder-spent-now',
  'sos.again-for-doctor',
  'sos.silent-for-doctor',
]);

/** What a text that comes again is about. */
function subjectOf({ key, caseId, item, vars }: Due['what'] & { kind: 'tell' }): { subject?: string } {
  if (!/^duty\./.test(key) && !saidAgain.has(key)) return {};
  return { subject: JSON.stringify([key, caseId, item, vars.question, vars.q, vars.who]) };
}

/** Asked by this person while their gloves were on: they wait for it. Answers in an alarm wait for nothing. */
function isAwaited(turn: Turn, person: Person, questionId: string): boolean {
  const question = turn.questions.find((one) => one.id === questionId);
  if (!question) return false;
  if (question.urgency === 'now') return true;
  const gloves = turn.threads.flatMap((one) => one.frames).filter((one) => stateOf(turn, one)?.quiet === true);
  return question.askedBy === person.id && gloves.every((one) => question.openedAt >= one.since);
}

function isAlarm(turn: Turn, questionId: string): boolean {
  return turn.questions.find((one) => one.id === questionId)?.urgency === 'now';
}

function receive(turn: Turn, interpreter: Interpreter, caseId: string, frames: readonly Frame[]): void {
  // Handed over by an earlier version: begun anew where the case stands.
  const bottom = areServed(turn, frames) ? frames[0] : undefined;
  const of = turn.caseOf(caseId);
  if (!bottom) {
    if (of) carryOn(turn, interpreter, of);
    return;
  }
  const entries = turn.state.entries + frames.length;
  const moved = frames.map((frame, index) => ({ ...frame, entry: turn.state.entries + index + 1 }));
  turn.state = { ...turn.state, entries };
  const thread: Thread = { id: bottom.id, caseId, frames: moved, ask: null };
  turn.threads = [...turn.threads, thread];
  for (const frame of moved) {
    const state = stateOf(turn, frame);
    if (state) interpreter.arm(thread.id, state, frame);
  }
  interpreter.show(thread.id);
}
