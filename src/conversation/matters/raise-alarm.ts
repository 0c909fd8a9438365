/** An alarm begins, is sent again, or is left behind; words that may become one get first aid. */
import { needleStatuses } from '../../case/bedside.ts';
import { foldWord } from '../../text/fold.ts';
import { quotedWords } from '../../text/one-line.ts';
import { isFirstAid, isOffered, isRaised } from '../alarm-digits.ts';
import { askingThread, Interpreter, topFrame } from '../interpret.ts';
import type { Act, Moment } from '../moment.ts';
import { networkAtOf } from '../parts.ts';
import { durationOf } from '../programme.ts';
import type { Frame, Thread } from '../state.ts';
import type { Turn } from '../turn.ts';
import type { Person } from '../world.ts';
import { alarmsOf, reachedIds, sosQuestion, tellAsked, tellOpened } from './alarm-told.ts';
import { caseNamed, codesIn } from './codes.ts';

/** Words of a cry that a doctor reads beside the alarm, characters: one segment with the clinic's name. */
const mostWords = 70;

/**
 * Starts the alarm in the thread at hand, or joins the one that is open on this phone. `cried`: the text did not say SOS,
 * so its words go to whoever hears of it. `about`: the patient of the alarm before, where the words are of that one.
 */
export function raiseAlarm(
  turn: Turn,
  interpreter: Interpreter,
  text: string,
  cried = false,
  about: Thread | null = null,
): void {
  endCry(turn, interpreter);
  const open = turn.threads.find((one) => one.frames.some((frame) => isRaised(turn, frame)));
  if (open) joinAlarm(turn, interpreter, open);
  else begin(turn, interpreter, text, about);
  const thread = turn.threads.find((one) => one.frames.some((frame) => isRaised(turn, frame)));
  const frame = thread?.frames.find((one) => isRaised(turn, one));
  if (!thread || !frame) return;
  const other = open ? otherNamed(turn, text, open, about) : null;
  if (!cried && !other) return;
  const words = quotedWords(text, mostWords);
  if (thread.caseId !== null) turn.record(thread.caseId, { type: 'noted', words });
  if (open && !other) return;
  // First aid is the same for both; whoever was alarmed must hear that it is about a second patient.
  if (other) {
    const { tag: otherTag } = turn.caseOf(other.caseId)!;
    turn.say(interpreter.person, 'sos.other-too', { frame, caseId: other.caseId, lane: 'sos', vars: { otherTag } });
  }
  const moment = turn.moment(frame, thread.caseId, interpreter.person);
  turn.carryOut(tellAsked(moment, 'sos.words-for-doctor', { words }), frame, thread.caseId);
}

function begin(turn: Turn, interpreter: Interpreter, text: string, about: Thread | null = null): void {
  const networkAt = networkAtOf(turn.event);
  const old = networkAt !== null && turn.now - networkAt > durationOf(turn.world.programme, 'sos-old');
  const vars = { fromSite: interpreter.person.siteId, toldAt: turn.now, ...(old ? { oldAt: networkAt } : {}) };
  const code = codesIn(text).codes[0];
  const named = code === undefined ? null : caseNamed(turn, interpreter.person, code);
  const under = named
    ? (turn.threads.find((one) => one.caseId === named.id) ?? null)
    : (about ?? threadMeant(turn, text));
  turn.aboutCaseId = named?.id ?? under?.caseId ?? null;
  if (under) interpreter.run('sos', { vars, onThread: under.id, item: under.frames.at(-1)?.item ?? null });
  else interpreter.run('sos', { vars, caseId: named?.id ?? null });
}

/** The patient whose tag stands in front of words of danger while another's alarm is open. */
function otherNamed(turn: Turn, text: string, open: Thread, about: Thread | null): Thread | null {
  const named = about ?? threadNamed(turn, text);
  return named !== null && named.caseId !== open.caseId ? named : null;
}

/** Of the patient whose tag stands in front; where none does, the matter at hand. */
const threadMeant = (turn: Turn, text: string): Thread | null => threadNamed(turn, text) ?? threadAtHand(turn);

function threadNamed(turn: Turn, text: string): Thread | null {
  const [, word = '', mark = '', rest = ''] =
    /^\s*(?:s\W?o\W?s\W+)?([\p{L}\p{N}-]+)\s*([:,.!]?)\s*(.*)$/isu.exec(text) ?? [];
  const words = rest.replace(/\bsos\b/giu, '');
  // `He collapsed` is no tag HE, and of words in capitals alone nobody knows.
  const isShouted = words === words.toUpperCase() && words !== words.toLowerCase();
  const isTag = (tag: string): boolean =>
    tag !== '' && (mark === ':' ? foldWord(tag) === foldWord(word) : tag === word && !isShouted);
  return turn.threads.findLast((one) => isTag(turn.caseOf(one.caseId)?.tag ?? '')) ?? null;
}

/** The matter that is being asked about; where that is no patient, the patient whose needle was out last. */
function threadAtHand(turn: Turn): Thread | null {
  const last = askingThread(turn) ?? turn.threads.at(-1) ?? null;
  // An alarm beside a practice case is a real one, about somebody else.
  const current = turn.caseOf(last?.caseId ?? null)?.practice ? null : last;
  if (!last || current?.caseId != null) return current;
  const withPatient = [...turn.threads].reverse().find((one) => {
    const of = turn.caseOf(one.caseId);
    return of !== null && !of.practice && needleStatuses.has(of.status);
  });
  return withPatient ?? current;
}

/** Sent again while an alarm is open: first aid each time, the doctors now and then with how often. */
function joinAlarm(turn: Turn, interpreter: Interpreter, open: Thread): void {
  const frame = open.frames.find((one) => isRaised(turn, one))!;
  turn.aboutCaseId = open.caseId;
  turn.say(interpreter.person, 'sos.first-aid', { frame, caseId: open.caseId, lane: 'sos' });
  const moment = turn.moment(frame, open.caseId, interpreter.person);
  if (alarmsOf(moment).every((one) => one.answeredAt !== null)) askAnew(turn, interpreter, open, frame);
  else countAgain(turn, interpreter, open, frame);
  sayWhoHears(turn, interpreter, frame);
  const words = turn.world.texts.render(interpreter.person.locale, 'history.sos', () => '');
  if (open.caseId !== null) turn.record(open.caseId, { type: 'noted', words });
  interpreter.raise(open.id);
  // Between two checks: what it is now may be something else, with first aid of its own.
  if (open.ask === null && open.frames.at(-1)?.id === frame.id) interpreter.enter(open.id, 'sign');
}

/** All that was asked of the doctors is answered: they are asked anew, and whoever hears of it is the one to be named. */
function askAnew(turn: Turn, interpreter: Interpreter, open: Thread, frame: Frame): void {
  const { id } = turn.openQuestion(sosQuestion, open.caseId, frame.item);
  const asked = { ...frame, vars: { ...frame.vars, question: id, again: 0, toldAt: turn.now, reached: [] } };
  tell(turn, interpreter, asked, open.caseId, tellOpened);
}

/** A repeat says whom it reached where somebody was texted because of it, or where others know now than before. */
function sayWhoHears(turn: Turn, interpreter: Interpreter, before: Frame): void {
  const thread = turn.threads.find((one) => one.frames.some((frame) => frame.id === before.id));
  const frame = thread?.frames.find((one) => one.id === before.id);
  if (!thread || !frame) return;
  const reached = reachedIds({ frame });
  const isNews =
    numberOf(frame, 'toldAt') !== numberOf(before, 'toldAt') ||
    frame.vars.question !== before.vars.question ||
    reached.join() !== reachedIds({ frame: before }).join();
  if (reached.length > 0 && !isNews) return;
  const key = reached.length > 0 ? 'sos.reached' : 'sos.nobody';
  turn.say(interpreter.person, key, { frame, caseId: thread.caseId, lane: 'sos' });
}

/** Counted; the first since the doctors heard last sets the row that tells them, so that they get one text in that time. */
function countAgain(turn: Turn, interpreter: Interpreter, open: Thread, frame: Frame): void {
  const again = numberOf(frame, 'again') + 1;
  const told = { ...frame, vars: { ...frame.vars, again } };
  putFrame(interpreter, open, told);
  const toldAt = numberOf(frame, 'toldAt');
  const at = toldAt + durationOf(turn.world.programme, 'alarm-again');
  const what = { kind: 'alarm-again', frameId: frame.id } as const;
  // Where nobody could be texted before, nobody is spared by waiting; where they were told in the future, the clock was set.
  if (at <= turn.now || toldAt > turn.now || reachedIds({ frame }).length === 0)
    tellAgain(turn, interpreter, what.frameId);
  else if (again === 1) turn.post(interpreter.person.id, what, { at, caseId: open.caseId });
}

/** The doctors hear how often the alarm was sent again since their last text. */
export function tellAgain(turn: Turn, interpreter: Interpreter, frameId: string): void {
  const thread = turn.threads.find((one) => one.frames.some((frame) => frame.id === frameId));
  const frame = thread?.frames.find((one) => one.id === frameId);
  const count = frame ? numberOf(frame, 'again') : 0;
  if (!thread || !frame || count === 0) return;
  const told = { ...frame, vars: { ...frame.vars, again: 0, toldAt: turn.now } };
  tell(turn, interpreter, told, thread.caseId, (moment) => tellAsked(moment, 'sos.again-for-doctor', { count }));
}

/** Tells the responders, and keeps in the frame who they were. */
function tell(
  turn: Turn,
  interpreter: Interpreter,
  frame: Frame,
  caseId: string | null,
  telling: (moment: Moment) => readonly Act[],
): void {
  const moment = turn.moment(frame, caseId, interpreter.person);
  const thread = turn.threads.find((one) => one.frames.some((each) => each.id === frame.id));
  if (thread) putFrame(interpreter, thread, turn.carryOut(telling(moment), frame, caseId).frame);
}

/**
 * Words that sound like danger and name none of the worst: first aid at once, and the alarm by itself when nothing is
 * answered. A second such text is an alarm.
 */
export function offerAlarm(turn: Turn, interpreter: Interpreter, text: string, about: Thread | null = null): void {
  if (turn.threads.some((one) => isFirstAid(turn, topFrame(one)))) {
    raiseAlarm(turn, interpreter, text, true, about);
    return;
  }
  const under = about ?? threadMeant(turn, text);
  turn.aboutCaseId = under?.caseId ?? null;
  const vars = { fromSite: interpreter.person.siteId, toldAt: turn.now };
  interpreter.run('cry', { vars, caseId: under?.caseId ?? null, item: under?.frames.at(-1)?.item ?? null });
}

/** Answered: the person goes on, and nothing is raised by itself. True: there was something to end. */
export function endCry(turn: Turn, interpreter: Interpreter): boolean {
  // Not what this very text began: it may be read for more.
  const begun = `${turn.event.id}:`;
  const cries = turn.threads.filter((one) => isOffered(turn, topFrame(one)) && !one.id.startsWith(begun));
  for (const { id, frames } of cries) {
    for (const frame of frames) turn.cancelTimers(frame.id);
    interpreter.remove(id);
  }
  return cries.length > 0;
}

/**
 * The phone of an alarm left the line and nobody took the alarm over: nothing more is asked there, and the doctors hear
 * that they must phone. Their question stays open.
 */
export function leaveAlarm(turn: Turn, person: Person): void {
  const open = turn.threads.find((one) => isRaised(turn, topFrame(one)));
  const frame = open?.frames.at(-1);
  if (!open || !frame) return;
  turn.carryOut(tellAsked(turn.moment(frame, open.caseId, person), 'sos.silent-for-doctor'), frame, open.caseId);
  new Interpreter(turn, person).end(open.id);
}

function numberOf(frame: Frame, name: string): number {
  const value = frame.vars[name];
  return typeof value === 'number' ? value : 0;
}

function putFrame(interpreter: Interpreter, thread: Thread, frame: Frame): void {
  const now = interpreter.thread(thread.id) ?? thread;
  interpreter.put({ ...now, frames: now.frames.map((one) => (one.id === frame.id ? frame : one)) });
}
