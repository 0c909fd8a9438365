import { caseStatuses } from '../case/case.ts';
import type { Flow } from '../conversation/flow.ts';

/** Flows as a case walks them: those that carry it from status to status, each with what it leads to; then all others. */
export function inCaseOrder(flows: readonly Flow[]): readonly Flow[] {
  const byName = new Map(flows.map((flow) => [flow.name as string, flow]));
  const placed = new Set<Flow>();
  const place = (one: Flow): void => {
    if (placed.has(one)) return;
    placed.add(one);
    for (const name of leadsTo(one)) {
      const next = byName.get(name);
      // A flow that carries a status has a place of its own.
      if (next && next.traits.carries === undefined) place(next);
    }
  };
  for (const status of caseStatuses) for (const flow of flows) if (flow.traits.carries === status) place(flow);
  for (const flow of flows) placed.add(flow);
  return [...placed];
}

function leadsTo({ states, anywhere }: Flow): readonly string[] {
  const all = [...[...states.values()].flatMap((one) => [...one.transitions.values()]), ...anywhere.values()];
  return all.flatMap(({ run, flow }) => [run, flow]).filter((one) => one !== null);
}
