/** Flows as JSON text: for the hash of their structure, and for keeping older structures while people still walk them. */
import { createHash } from 'node:crypto';
import type { Flow, FlowState, FlowTransition } from '../conversation/flow.ts';

type Unhashed = Omit<Flow, 'hash'>;

/**
 * First 16 hexadecimal digits of the SHA-256 of the structure: states, fields, options with order and digits, decisions,
 * timers, transitions. Traits, texts, notices' words and the order of states in the file do not count.
 */
export function structureHash(flow: Unhashed): string {
  const states = [...flow.states.values()]
    .sort(byName)
    .map((state) => [
      state.name,
      state.ask,
      state.decide,
      state.record,
      state.question,
      [...state.timers].sort(byName),
      transitionsOf(state.transitions),
      state.final,
      state.quiet,
      state.noBack,
    ]);
  const structure = [flow.name, flow.initial, transitionsOf(flow.anywhere), states];
  return createHash('sha256').update(JSON.stringify(structure)).digest('hex').slice(0, 16);
}

function transitionsOf(all: ReadonlyMap<string, FlowTransition>): readonly unknown[] {
  return [...all.entries()]
    .sort(([a], [b]) => (a < b ? -1 : 1))
    .map(([key, one]) => [key, one.record, one.question, one.run, one.flow, one.target]);
}

function byName(a: { readonly name: string }, b: { readonly name: string }): number {
  return a.name < b.name ? -1 : 1;
}

/** The whole flow as one line of JSON. `flowFromJson` gives back an equal flow. */
export function flowToJson(flow: Flow): string {
  const states = [...flow.states.values()].map((state) => ({ ...state, transitions: [...state.transitions] }));
  return JSON.stringify({ ...flow, states, anywhere: [...flow.anywhere] });
}

/** As it is stored; flows that were saved before there were traits have none. */
interface FlowJson extends Omit<Flow, 'states' | 'anywhere' | 'traits'> {
  readonly traits?: Flow['traits'];
  readonly states: readonly (Omit<FlowState, 'transitions' | 'traits'> & {
    readonly traits?: FlowState['traits'];
    readonly transitions: readonly (readonly [string, FlowTransition])[];
  })[];
  readonly anywhere: readonly (readonly [string, FlowTransition])[];
}

/** Reads what `flowToJson` wrote. Throws when the text is not such JSON or its hash is not that of its structure. */
export function flowFromJson(json: string): Flow {
  const plain = JSON.parse(json) as FlowJson;
  const flow: Flow = {
    ...plain,
    traits: plain.traits ?? {},
    states: new Map(
      plain.states.map((state) => [
        state.name,
        { ...state, traits: state.traits ?? {}, transitions: new Map(state.transitions) },
      ]),
    ),
    anywhere: new Map(plain.anywhere),
  };
  if (structureHash(flow) !== flow.hash)
    throw new Error(`flow ${flow.name}: the stored structure is not that of its hash`);
  return flow;
}
