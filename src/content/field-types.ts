import type { FlowAsk, FlowSet } from '../conversation/flow.ts';

/** Every answer that the newest flows record, with the type of its value as it is written in TypeScript, by name. */
export function fieldTypes(flows: FlowSet): readonly (readonly [field: string, type: string])[] {
  const types = new Map<string, Set<string>>();
  for (const { states } of flows.newest.values()) {
    for (const { ask } of states.values()) {
      if (!ask || ask.unrecorded) continue;
      types.set(ask.field, (types.get(ask.field) ?? new Set()).add(typeOf(ask)));
    }
  }
  return [...types]
    .map(([field, all]) => [field, [...all].sort().join(' | ')] as const)
    .sort(([a], [b]) => (a < b ? -1 : 1));
}

/** Fields whose newest questions are about one nodule or specimen, by name. */
export function fieldsOfItems(flows: FlowSet): readonly string[] {
  const asks = [...flows.newest.values()].flatMap(({ states }) => [...states.values()].flatMap(({ ask }) => ask ?? []));
  return [...new Set(asks.filter((ask) => ask.each && !ask.unrecorded).map((ask) => ask.field))].sort();
}

/** A reader of its own records what `case/read-values.ts` says; no other kind than these is read without one. */
function typeOf({ field, kind, reader }: FlowAsk): string {
  if (reader !== null) return `ReadValues['${field}']`;
  const option = `OptionId<'${field}'>`;
  if (kind === 'choice') return option;
  if (kind === 'choices') return `readonly ${option}[]`;
  return 'string';
}
