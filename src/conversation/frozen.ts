/** A case that somebody called wrong waits for a doctor. */
import type { Thread } from './state.ts';
import { traitsOf } from './traits.ts';
import type { Turn } from './turn.ts';
import type { Person } from './world.ts';

/** True: answers in this thread wait until a doctor releases the case. Some flows go on all the same: first aid, the watch. */
export function isFrozen(turn: Turn, thread: Thread): boolean {
  const frame = thread.frames.at(-1) ?? null;
  if (frame === null || traitsOf(turn.world.flows, frame).whileFrozen === 'goes-on') return false;
  return (turn.caseOf(thread.caseId)?.frozen ?? null) !== null;
}

/** Says why nothing goes on and nothing is asked, once for all that one event brings. */
export function sayFrozen(turn: Turn, person: Person, caseId: string | null): void {
  const isSaid = turn.says.some(
    (one) => one.personId === person.id && one.caseId === caseId && one.step === frozenStep,
  );
  if (!isSaid) turn.say(person, 'people.frozen', { frame: null, caseId, step: frozenStep });
}

const frozenStep = 'frozen';
