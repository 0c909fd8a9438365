/** A person's reminders are one: the question itself is the reminder, and never several at once. */
import type { Due, DueWhat } from './event.ts';
import { askingThread, type Interpreter, stateOf, topFrame } from './interpret.ts';
import { durationOf, siteOf } from './programme.ts';
import { inDaytime } from './schedule.ts';
import type { Turn } from './turn.ts';

/**
 * True: the reminder of a case's duty needs no text of its own, because the case's question is open with this person and
 * repeats itself. It is asked again, unless that was done within the time after which questions repeat themselves.
 */
export function saidByQuestion(turn: Turn, interpreter: Interpreter, what: DueWhat & { kind: 'tell' }): boolean {
  if (!/^duty\.[a-z]+-worker$/.test(what.key)) return false;
  const thread = [...turn.threads].reverse().find((one) => one.caseId === what.caseId && one.ask !== null);
  const frame = thread ? topFrame(thread) : null;
  const repeats = frame !== null && stateOf(turn, frame)?.timers.some((one) => one.daytime) === true;
  if (!thread?.ask || !repeats) return false;
  if (thread.ask.askedAt > turn.now - durationOf(turn.world.programme, 'unanswered')) return true;
  interpreter.raise(thread.id);
  interpreter.show(thread.id);
  return true;
}

/**
 * True: another patient's question has just been put to this person, so that what is asked by day waits for its turn. A
 * digit answers one question, and five questions in a row are none.
 */
export function waitsItsTurn(turn: Turn, interpreter: Interpreter, due: Due, threadId: string): boolean {
  const asking = askingThread(turn);
  const thread = interpreter.thread(threadId);
  const frame = thread ? topFrame(thread) : null;
  const timer = frame ? stateOf(turn, frame)?.timers.find((one) => one.name === due.name) : undefined;
  if (!asking?.ask || asking.id === threadId || !timer?.daytime) return false;
  const { programme } = turn.world;
  const gap = durationOf(programme, 'reminder-gap');
  if (asking.ask.askedAt <= turn.now - gap) return false;
  const { zone } = siteOf(programme, interpreter.person.siteId);
  turn.post(interpreter.person.id, due.what, {
    at: inDaytime(turn.now + gap, zone, programme.daytime),
    caseId: due.caseId,
    name: due.name,
    ...(due.frameId === null ? {} : { frameId: due.frameId }),
  });
  return true;
}
