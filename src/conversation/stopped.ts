/** Somebody who sent STOP gets nothing unasked; what was meant for their patients goes to whoever carries them now. */

import { isFirstAid } from './alarm-digits.ts';
import type { Due } from './event.ts';
import { stateOf, topFrame } from './interpret.ts';
import { carrier } from './people.ts';
import type { Thread } from './state.ts';
import { flowTraits, traitsOf } from './traits.ts';
import type { Turn } from './turn.ts';
import type { Person } from './world.ts';

/** The thread of an alarm that this person raised after STOP, or of words that may become one: its answers and timers are theirs. */
export function alarmThread(turn: Turn): Thread | null {
  return turn.threads.find((one) => isFirstAid(turn, topFrame(one))) ?? null;
}

/**
 * A hand-over needs no text, and an open alarm of somebody who stopped keeps its answers and its re-checks. A number that
 * has not proven itself yet gets its join number and nothing else.
 */
export function reachesAway(turn: Turn, person: Person, due: Due): boolean {
  const { what } = due;
  if (what.kind === 'hand-over' || what.kind === 'standing' || what.kind === 'mend') return true;
  if (person.state === 'invited') return what.kind === 'tell' && what.key === 'join.number';
  if (person.state === 'suspended') return false;
  const alarm = alarmThread(turn);
  if (!alarm) return false;
  if (what.kind === 'alarm-again') return true;
  if (what.kind === 'timer') return alarm.frames.some((frame) => frame.id === what.frameId && isFirstAid(turn, frame));
  if (what.kind === 'answered') return topFrame(alarm)?.vars.question === what.questionId;
  return what.kind === 'tell' && what.lane === 'sos';
}

/**
 * Gives a worker's event of a case to the colleague who carries the case now. A timer of their own case moves the whole
 * thread. Without a colleague an open case's duty tells the coordinators; the day to look again, which has none, is told here.
 */
export function passOn(turn: Turn, person: Person, due: Due): void {
  const { what } = due;
  if (
    what.kind === 'ask-doctor' ||
    what.kind === 'picture' ||
    what.kind === 'part-missing' ||
    what.kind === 'alarm-again' ||
    what.kind === 'unknown-alarm' ||
    !person.roles.includes('worker')
  )
    return;
  const of = turn.caseOf(due.caseId);
  if (!of) return;
  const found = carrier(turn.world, of);
  const to = found?.id === person.id ? null : found;
  if (what.kind === 'timer') {
    const thread = turn.threads.find((one) => one.frames.some((frame) => frame.id === what.frameId));
    const live = thread?.frames.some((frame) => frame.id === what.frameId && frame.entry === what.entry);
    if (!thread || !live || of.ownerId !== person.id) return;
    if (to) {
      turn.record(of.id, { type: 'taken-over', ownerId: to.id });
      turn.post(person.id, { kind: 'hand-over', caseId: of.id, to: to.id }, { caseId: of.id });
    } else if (traitsOf(turn.world.flows, topFrame(thread)).unattended)
      askLater(turn, of.id, thread.frames[0]?.item ?? null);
    return;
  }
  if (to) turn.post(to.id, what, { caseId: due.caseId });
  else if (what.kind === 'run' && flowTraits(turn.world.flows, what.flow).unattended) askLater(turn, of.id, what.item);
}

function askLater(turn: Turn, caseId: string, item: string | null): void {
  turn.post(null, { kind: 'look-again', caseId, item, told: 0 }, { caseId });
}

/** Back on the line: what waited for a time of day waits again; what passed meanwhile comes at once. */
export function timersOf(turn: Turn): readonly { readonly thread: Thread; readonly frame: Thread['frames'][number] }[] {
  return turn.threads.flatMap((thread) =>
    thread.frames.filter((frame) => (stateOf(turn, frame)?.timers.length ?? 0) > 0).map((frame) => ({ thread, frame })),
  );
}
