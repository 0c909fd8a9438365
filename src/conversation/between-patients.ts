/** An answer that records something of one patient while another one is in hand: it says of whom it is. */
import { topFrame } from './interpret.ts';
import { durationOf } from './programme.ts';
import type { Thread } from './state.ts';
import { traitsOf } from './traits.ts';
import type { Turn } from './turn.ts';

/** True: the question records what was told, seen or looked at, and something of another patient happened a short while ago. */
export function isBetweenPatients(turn: Turn, asking: Thread): boolean {
  if (turn.event.kind !== 'text' || turn.world.quotedToken !== null) return false;
  if (traitsOf(turn.world.flows, topFrame(asking)).ofWhom !== 'said') return false;
  if (turn.caseOf(asking.caseId)?.practice) return false;
  const window = durationOf(turn.world.programme, 'forget-ask');
  return turn.threads.some(({ caseId }) => {
    const of = caseId === asking.caseId ? null : turn.caseOf(caseId);
    return of !== null && of.status !== 'closed' && !of.practice && turn.now - of.changedAt < window;
  });
}
