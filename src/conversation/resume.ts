/** A case whose threads are gone is carried on where its history stands. */

import type { Case, CaseStatus } from '../case/case.ts';
import type { FlowName } from '../generated/flow-names.ts';
import type { Interpreter } from './interpret.ts';
import type { Turn } from './turn.ts';

/** The flow that carries cases of a status; null where nobody at the clinic is asked: on the way and at the laboratory. */
export function flowThatCarries(turn: Turn, status: CaseStatus): FlowName | null {
  const flows = [...turn.world.flows.newest.values()];
  return flows.find((one) => one.traits.carries === status)?.name ?? null;
}

/** Begins the flow that fits the case, unless a thread of it is there or the case is frozen for a doctor. */
export function resume(turn: Turn, interpreter: Interpreter, of: Case): void {
  const flow = flowThatCarries(turn, of.status);
  if (flow === null || of.frozen !== null || turn.threads.some((one) => one.caseId === of.id)) return;
  if (of.status !== 'action') {
    interpreter.run(flow, { caseId: of.id, item: of.specimens[0]?.id ?? null });
    return;
  }
  for (const specimen of of.specimens) {
    if (specimen.results.length > 0 && specimen.end === null)
      interpreter.run(flow, { caseId: of.id, item: specimen.id });
  }
}
