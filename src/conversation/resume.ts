/** A case whose threads are gone is carried on where its history stands. */

import { type Case, type CaseStatus, laboratoryStatuses, type Specimen } from '../case/case.ts';
import type { FlowName } from '../generated/flow-names.ts';
import type { Interpreter } from './interpret.ts';
import type { Turn } from './turn.ts';

/** The flow that carries cases of a status; null where nobody at the clinic is asked: on the way and at the laboratory. */
export function flowThatCarries(turn: Turn, status: CaseStatus): FlowName | null {
  const flows = [...turn.world.flows.newest.values()];
  return flows.find((one) => one.traits.carries === status)?.name ?? null;
}

/** True: the clinic owes the next step. One sample's result does not wait until the other one's has come. */
export function waitsAtClinic(turn: Turn, of: Case): boolean {
  return flowThatCarries(turn, of.status) !== null || (isAtLaboratory(of) && of.specimens.some(isToActOn));
}

/** Begins the flow that fits the case, unless a thread of it is there or the case is frozen for a doctor. */
export function resume(turn: Turn, interpreter: Interpreter, of: Case): void {
  if (of.frozen !== null) return;
  const here = turn.threads.filter((one) => one.caseId === of.id);
  if (of.status === 'action' || isAtLaboratory(of)) {
    const acting = flowThatCarries(turn, 'action');
    for (const specimen of of.specimens.filter(isToActOn)) {
      if (here.some((one) => one.frames.some((frame) => frame.item === specimen.id))) continue;
      // Glass that cannot be used has no result: the patient is asked to come again.
      const flow = specimen.rejected !== null ? 'unusable' : acting;
      if (flow !== null) interpreter.run(flow, { caseId: of.id, item: specimen.id });
    }
    return;
  }
  const flow = flowThatCarries(turn, of.status);
  if (flow !== null && here.length === 0) interpreter.run(flow, { caseId: of.id, item: of.specimens[0]?.id ?? null });
}

function isAtLaboratory(of: Case): boolean {
  return laboratoryStatuses.some((one) => one === of.status);
}

/** A result is there that nobody has ended, or the laboratory cannot use the glass. */
function isToActOn(one: Specimen): boolean {
  return one.end === null && (one.results.length > 0 || one.rejected !== null);
}
