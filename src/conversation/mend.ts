/**
 * What a conversation points to and cannot be read any more is let go before anything else happens, so that one damaged
 * or erased record mutes nobody. Whoever was busy with it hears so once, the coordinators too; an alarm goes on without
 * its case.
 */

import type { TextKey } from '../generated/text-keys.ts';
import { isRaised } from './alarm-digits.ts';
import type { Due } from './event.ts';
import type { FlowQuestion } from './flow.ts';
import { Interpreter, stateOf } from './interpret.ts';
import { goOnAtTheNeedle } from './left-behind.ts';
import { freshState, type Thread } from './state.ts';
import type { Turn } from './turn.ts';
import type { Person } from './world.ts';

/** Lets go of all that was lost. Does nothing, and costs nothing, while nothing is. */
export function mend(turn: Turn): void {
  const { person } = turn;
  const { cases, questions, conversation } = turn.world.lost;
  if (!person || (cases.length === 0 && questions.length === 0 && !conversation)) return;
  if (conversation) {
    tell(turn, person, 'conversation', 1);
    goOnAtTheNeedle(turn, person);
  }
  for (const why of ['erased', 'damaged'] as const) {
    const gone = new Set(cases.filter((one) => one.why === why).map((one) => one.id));
    const over = turn.threads.filter((one) => one.caseId !== null && gone.has(one.caseId));
    for (const thread of over) letGo(turn, person, thread);
    if (over.length > 0) tell(turn, person, why, new Set(over.map((one) => one.caseId)).size);
  }
  forget(turn);
}

/** True: a row about a case that cannot be read, and that means nothing without it. */
export function pointsToNothing(turn: Turn, due: Due): boolean {
  const id = due.caseId ?? ('caseId' in due.what ? due.what.caseId : null);
  const lost = turn.world.lost.cases.find((one) => one.id === id);
  if (!lost || due.what.kind === 'mend') return false;
  return lost.why === 'erased' || ['run', 'receive', 'hand-over'].includes(due.what.kind);
}

/** A coordinator gives this phone a fresh start: all its threads end. Open cases and the doctors' questions stay as they are. */
export function beginAnew(turn: Turn, person: Person, by: string): void {
  for (const thread of turn.threads) drop(turn, thread);
  const { entries, lastInAt, wrongAt, wrongSecretsAt, heard, heardFrom, wrongCodesAt } = turn.state;
  turn.state = {
    ...freshState,
    entries,
    lastInAt,
    wrongAt,
    ...(wrongSecretsAt ? { wrongSecretsAt } : {}),
    ...(heard ? { heard } : {}),
    ...(heardFrom ? { heardFrom } : {}),
    ...(wrongCodesAt ? { wrongCodesAt } : {}),
  };
  if (person.state !== 'joined') return;
  turn.say(person, 'mended.fresh', { frame: null, caseId: null, vars: { by } });
  goOnAtTheNeedle(turn, person);
}

function letGo(turn: Turn, person: Person, thread: Thread): void {
  const from = thread.frames.findIndex((one) => isRaised(turn, one));
  const left = from < 0 ? [] : thread.frames.slice(from).map((one) => ({ ...one, item: null, returnTo: null }));
  drop(turn, { ...thread, frames: thread.frames.slice(0, from < 0 ? undefined : from) });
  if (left.length === 0) return;
  // The doctors' question went with the case, the patient's trouble did not.
  const question = alarmOf(turn, left[0]!.flow);
  const asked = question && turn.openQuestion(question, null, null, '', { askedBy: person.id });
  const frames = left.map((one) => (asked ? { ...one, vars: { ...one.vars, question: asked.id } } : one));
  turn.threads = [...turn.threads, { ...thread, caseId: null, frames }];
  // Its timers may have gone with the case.
  const top = frames.at(-1)!;
  const state = stateOf(turn, top);
  turn.cancelTimers(top.id);
  if (state) new Interpreter(turn, person).arm(thread.id, state, top);
}

/** Ends a thread with its timers, whatever state it is in. */
function drop(turn: Turn, thread: Thread): void {
  const known = turn.world.flows.byHash;
  for (const frame of thread.frames) {
    turn.cancelTimers(frame.id);
    if (known.has(frame.hash) && stateOf(turn, frame)?.quiet) turn.releaseHeld();
  }
  turn.threads = turn.threads.filter((one) => one.id !== thread.id);
}

/** The question that this alarm asks of the doctors. */
function alarmOf(turn: Turn, flow: string): FlowQuestion | null {
  const states = [...(turn.world.flows.newest.get(flow)?.states.values() ?? [])];
  return states.find((one) => one.question?.urgency === 'now')?.question ?? null;
}

/** Pointers beside the threads: what WRONG, MORE and a late answer would be about. */
function forget(turn: Turn): void {
  const cases = new Set(turn.world.lost.cases.map((one) => one.id));
  const questions = new Set(turn.world.lost.questions);
  const { lastCaseId, more, lastAnswered, lastQuestionId, shownQuestions } = turn.state;
  const gone = (caseId: string | null): boolean => caseId !== null && cases.has(caseId);
  const answered = lastAnswered !== null && (gone(lastAnswered.caseId) || questions.has(lastAnswered.id));
  turn.state = {
    ...turn.state,
    lastCaseId: gone(lastCaseId) ? null : lastCaseId,
    more: more !== null && gone(more.caseId) ? null : more,
    lastAnswered: answered ? null : lastAnswered,
    lastQuestionId: lastQuestionId !== null && questions.has(lastQuestionId) ? null : lastQuestionId,
    shownQuestions: shownQuestions.filter((id) => !questions.has(id)),
  };
}

function tell(turn: Turn, person: Person, what: 'erased' | 'damaged' | 'conversation', count: number): void {
  if (person.state === 'joined') {
    const key: TextKey = count > 1 && what !== 'conversation' ? `mended.${what}-several` : `mended.${what}`;
    turn.say(person, key, { frame: null, caseId: null, vars: { count: String(count) } });
    turn.disturbed = true;
  }
  const vars = { who: person.name, count: String(count) };
  turn.notify('coordinators', `mended.${what}-for-coordinator`, 'notice', null, null, vars);
}
