/** A case that was ended by hand while somebody was asked about it, with gloves on perhaps. */
import { endThreads } from './carry-out.ts';
import type { Due } from './event.ts';
import { stateOf, topFrame } from './interpret.ts';
import type { Turn } from './turn.ts';

/** How a case is closed by END. */
export const endedByHand = 'ended-by-hand';

/**
 * What was asked here of a case before it was ended by hand takes no answer any more: nothing is written into what is closed,
 * and the text that tells so is on its way.
 */
export function letEndedGo(turn: Turn): void {
  const ended = turn.threads.filter(({ caseId, frames }) => {
    const of = turn.caseOf(caseId);
    return of?.closed === endedByHand && frames.every(({ since }) => since <= of.statusAt);
  });
  for (const { caseId } of ended) if (caseId !== null) endThreads(turn, { do: 'end-threads', caseId, traits: {} }, '');
}

/**
 * Whether this is about the very patient whose needle is awaited here, and whose case was closed: no word of it is awaited any
 * more, so nothing waits for it. It was closed long after the last word (`isAtTheNeedle`), so no needle is in.
 */
export function closesInHand(turn: Turn, { what }: Due): boolean {
  if (what.kind !== 'run' || turn.caseOf(what.caseId)?.closed == null) return false;
  return turn.threads.some((thread) => {
    const frame = topFrame(thread);
    return thread.caseId === what.caseId && frame !== null && stateOf(turn, frame)?.quiet === true;
  });
}
