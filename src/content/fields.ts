import { cautions, decisions, reasons } from '../clinical/reasons.ts';
import type { FlowSet } from '../conversation/flow.ts';

/** A question of a flow as tools see it. */
export interface FieldRow {
  readonly flow: string;
  readonly state: string;
  readonly field: string;
  readonly kind: string;
  /** Asked for each nodule or specimen. */
  readonly each: boolean;
  /** `reply` is empty for an option whose digits are drawn at random. */
  readonly options: readonly { readonly id: string; readonly reply: string }[];
}

/** Every field that the newest flows ask, by flow, in the order of the file. */
export function fieldRows(flows: FlowSet): readonly FieldRow[] {
  return [...flows.newest.values()]
    .sort((a, b) => (a.name < b.name ? -1 : 1))
    .flatMap((flow) =>
      [...flow.states.values()].flatMap(({ name, ask }) => {
        if (!ask) return [];
        const options = ask.options.map(({ id, reply }) => ({ id, reply }));
        return [{ flow: flow.name, state: name, field: ask.field, kind: ask.kind, each: ask.each, options }];
      }),
    );
}

/** The closed lists that an assessment answers with, as rows of no flow: the field it stands in, and its ids. */
export function assessedRows(): readonly FieldRow[] {
  const lists = { decision: decisions, because: reasons, cautions } as const;
  return Object.entries(lists).map(([field, ids]) => ({
    flow: 'assess',
    state: 'output',
    field,
    kind: field === 'decision' ? 'choice' : 'choices',
    each: false,
    options: ids.map((id) => ({ id, reply: '' })),
  }));
}
