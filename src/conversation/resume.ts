/** A case whose threads are gone is carried on where its history stands. */

import type { Case, CaseStatus } from '../case/case.ts';
import type { FlowName } from '../generated/flow-names.ts';
import type { Interpreter } from './interpret.ts';
import type { Turn } from './turn.ts';

/** The flow that a case of this status waits in with its worker. On its way and at the laboratory nobody at the clinic is asked. */
const flowOf: Readonly<Record<CaseStatus, FlowName | null>> = {
  findings: 'new',
  decision: 'decision',
  readiness: 'ready',
  sampling: 'sampling',
  labelling: 'labelling',
  aftercare: 'aftercare',
  posting: 'posting',
  posted: null,
  received: null,
  action: 'action',
  closed: null,
};

/** Begins the flow that fits the case, unless a thread of it is there or the case is frozen for a doctor. */
export function resume(turn: Turn, interpreter: Interpreter, of: Case): void {
  const flow = flowOf[of.status];
  if (flow === null || of.frozen !== null || turn.threads.some((one) => one.caseId === of.id)) return;
  if (flow !== 'action') {
    interpreter.run(flow, { caseId: of.id, item: of.specimens[0]?.id ?? null });
    return;
  }
  for (const specimen of of.specimens) {
    if (specimen.results.length > 0 && specimen.end === null)
      interpreter.run(flow, { caseId: of.id, item: specimen.id });
  }
}
