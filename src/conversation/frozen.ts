/** A case that somebody called wrong waits for a doctor. */
import { topFrame } from './interpret.ts';
import type { Thread } from './state.ts';
import type { Turn } from './turn.ts';

/** What goes on all the same: first aid, the watch after a needle, and a question to the doctor. */
const goesOnFrozen: ReadonlySet<string> = new Set(['sos', 'aftercare', 'ask']);

/** True: answers in this thread wait until a doctor releases the case. */
export function isFrozen(turn: Turn, thread: Thread): boolean {
  const frame = topFrame(thread);
  return frame !== null && !goesOnFrozen.has(frame.flow) && (turn.caseOf(thread.caseId)?.frozen ?? null) !== null;
}
