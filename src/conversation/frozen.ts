/** A case that somebody called wrong waits for a doctor. */
import { topFrame } from './interpret.ts';
import type { Thread } from './state.ts';
import { traitsOf } from './traits.ts';
import type { Turn } from './turn.ts';

/** True: answers in this thread wait until a doctor releases the case. Some flows go on all the same: first aid, the watch. */
export function isFrozen(turn: Turn, thread: Thread): boolean {
  const frame = topFrame(thread);
  if (frame === null || traitsOf(turn.world.flows, frame).whileFrozen === 'goes-on') return false;
  return (turn.caseOf(thread.caseId)?.frozen ?? null) !== null;
}
