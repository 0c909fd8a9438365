/** NEW before anybody is named: there is one at most, `B` drops it, and so does silence, so that it stands before no other patient. */
import { Interpreter, stateOf, topFrame } from './interpret.ts';
import { durationOf } from './programme.ts';
import { readAnswer } from './reading.ts';
import type { Thread } from './state.ts';
import { traitsOf } from './traits.ts';
import type { Turn } from './turn.ts';

/** True: begun for a patient who is not named yet. */
export function isEmptyNew(turn: Turn, thread: Thread): boolean {
  const [bottom] = thread.frames;
  return thread.caseId === null && bottom !== undefined && traitsOf(turn.world.flows, bottom).carries === 'findings';
}

/** Ends each one that is there. True: there was one. */
export function dropEmptyNew(turn: Turn, which: (thread: Thread) => boolean = () => true): boolean {
  const over = turn.threads.filter((one) => isEmptyNew(turn, one) && which(one));
  for (const frame of over.flatMap((one) => one.frames)) turn.cancelTimers(frame.id);
  turn.threads = turn.threads.filter((one) => !over.includes(one));
  return over.length > 0;
}

/** Long after it was asked nobody stands there: what comes now is about another matter, unless it names the patient. */
export function dropForgottenNew(turn: Turn): void {
  const { person, event } = turn;
  if (!person) return;
  const since = turn.now - durationOf(turn.world.programme, 'forget-ask');
  dropEmptyNew(turn, (thread) => {
    const { ask } = thread;
    if (!ask || (ask.first ?? ask).askedAt > since) return false;
    return event.kind !== 'text' || !names(turn, person, thread, event.text);
  });
}

function names(turn: Turn, person: NonNullable<Turn['person']>, thread: Thread, text: string): boolean {
  const frame = topFrame(thread);
  const of = frame ? stateOf(turn, frame) : null;
  if (!frame || !of?.ask || !thread.ask || thread.ask.moved) return false;
  return readAnswer(turn, new Interpreter(turn, person).momentOf(thread, frame), of.ask, thread.ask, text).ok;
}
