/** Somebody who sent STOP gets nothing unasked; what was meant for their patients goes to whoever carries them now. */

import type { Case } from '../case/case.ts';
import { assertNever } from '../clinical/assert-never.ts';
import { isFirstAid } from './alarm-digits.ts';
import type { Due } from './event.ts';
import { stateOf, topFrame } from './interpret.ts';
import { keepAnswer } from './left-behind.ts';
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
export function reachesAway(turn: Turn, person: Person, { what }: Due): boolean {
  switch (what.kind) {
    case 'hand-over':
    case 'standing':
    case 'mend':
      return true;
    case 'tell':
      if (person.state === 'invited') return what.key === 'join.number';
      return what.lane === 'sos' && ownAlarm(turn, person) !== null;
    case 'alarm-again':
      return ownAlarm(turn, person) !== null;
    case 'timer':
      return (ownAlarm(turn, person)?.frames ?? []).some((one) => one.id === what.frameId && isFirstAid(turn, one));
    case 'answered': {
      const alarm = ownAlarm(turn, person);
      return alarm !== null && topFrame(alarm)?.vars.question === what.questionId;
    }
    case 'run':
    case 'unknown-alarm':
    case 'ask-doctor':
    case 'part-missing':
    case 'picture':
    case 'welcome':
    case 'climb':
    case 'receive':
    case 'stock':
    case 'overview':
    case 'undelivered':
    case 'trouble':
    case 'line-back':
    case 'look-again':
    case 'overdue':
      return false;
    default:
      return assertNever(what);
  }
}

/** Only who sent STOP goes on with an alarm: a number that is not proven, or was lost, has none. */
function ownAlarm(turn: Turn, person: Person): Thread | null {
  return person.state === 'stopped' ? alarmThread(turn) : null;
}

/**
 * Gives a worker's event of a case to the colleague who carries the case now. A timer of their own case moves the whole
 * thread. Without a colleague an open case's duty tells the coordinators; the day to look again, which has none, is told here.
 */
export function passOn(turn: Turn, person: Person, due: Due): void {
  const { what } = due;
  const of = turn.caseOf(due.caseId);
  const found = of ? carrier(turn.world, of) : null;
  const to = found?.id === person.id ? null : found;
  if (what.kind === 'answered' && to === null) {
    const { kind: _, ...answer } = what;
    keepAnswer(turn, answer);
    return;
  }
  if (!of || !person.roles.includes('worker')) return;
  switch (what.kind) {
    // Meant for this person and nobody else.
    case 'ask-doctor':
    case 'picture':
    case 'part-missing':
    case 'alarm-again':
    case 'unknown-alarm':
    case 'welcome':
      return;
    case 'timer':
      passTimer(turn, person, what, of, to);
      return;
    case 'run':
      if (to) turn.post(to.id, what, { caseId: due.caseId });
      else if (flowTraits(turn.world.flows, what.flow).unattended) askLater(turn, of.id, what.item);
      return;
    case 'tell':
      // That a colleague took the case is nothing to tell the colleague.
      if (to && what.key !== 'people.taken-from-you') turn.post(to.id, what, { caseId: due.caseId });
      return;
    case 'answered':
    case 'climb':
    case 'hand-over':
    case 'receive':
    case 'standing':
    case 'stock':
    case 'overview':
    case 'undelivered':
    case 'trouble':
    case 'line-back':
    case 'mend':
    case 'look-again':
    case 'overdue':
      if (to) turn.post(to.id, what, { caseId: due.caseId });
      return;
    default:
      assertNever(what);
  }
}

type Timer = Extract<Due['what'], { readonly kind: 'timer' }>;

function passTimer(turn: Turn, person: Person, what: Timer, of: Case, to: Person | null): void {
  const thread = turn.threads.find((one) => one.frames.some((frame) => frame.id === what.frameId));
  const live = thread?.frames.some((frame) => frame.id === what.frameId && frame.entry === what.entry);
  if (!thread || !live) return;
  // Somebody else's case, or a closed one: nobody but the line knows of the day to look again.
  if (of.ownerId !== person.id) {
    if (traitsOf(turn.world.flows, topFrame(thread)).unattended) askLater(turn, of.id, thread.frames[0]?.item ?? null);
    return;
  }
  if (to) {
    turn.record(of.id, { type: 'taken-over', ownerId: to.id });
    turn.post(person.id, { kind: 'hand-over', caseId: of.id, to: to.id }, { caseId: of.id });
  } else if (traitsOf(turn.world.flows, topFrame(thread)).unattended)
    askLater(turn, of.id, thread.frames[0]?.item ?? null);
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
