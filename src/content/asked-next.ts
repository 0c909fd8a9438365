/** Which question can come directly after which, for the same patient: what a text that is delivered twice would meet. */
import type { Flow, FlowState, FlowTransition } from '../conversation/flow.ts';
import type { CheckRegistry } from './check-registry.ts';
import type { FlowSource } from './load.ts';
import { goesOn, transitionsFrom } from './transition-keys.ts';

/** A state that asks, in its flow. */
export interface AskingState {
  readonly source: FlowSource;
  readonly state: FlowState;
}

/**
 * The questions that an answer to this one can lead to without anything else said or awaited between, itself among them
 * only where it is asked of each nodule or specimen. Deciding states may lead anywhere they name, save those whose
 * decision asks in a fixed order (`inOrder`): there only what stands later, or what is asked of the next item.
 */
export function askedNext(
  from: AskingState,
  sources: readonly FlowSource[],
  registry: CheckRegistry,
): readonly AskingState[] {
  const flows = new Map(sources.map((source) => [source.flow.name as string, source]));
  const found = new Map<string, AskingState>();
  const seen = new Set<string>();
  const answered = [...transitionsFrom(from.source.flow, from.state)].filter(([key]) => !key.includes('.'));
  for (const [, transition] of answered) follow(from.source, transition);
  return [...found.values()];

  function follow(source: FlowSource, transition: FlowTransition): void {
    if (transition.flow !== null) enterFlow(transition.flow);
    else if (transition.run !== null) enterFlow(transition.run);
    else if (transition.target !== null) enter(source, transition.target);
  }

  function enterFlow(name: string): void {
    const source = flows.get(name);
    if (source) enter(source, source.flow.initial);
  }

  function enter(source: FlowSource, name: string): void {
    const key = `${source.flow.name}.${name}`;
    const state = source.flow.states.get(name);
    if (!state || seen.has(key)) return;
    seen.add(key);
    if (state.ask !== null && state.decide === null) {
      if (state !== from.state || state.ask.each) found.set(key, { source, state });
      return;
    }
    if (!goesOn(state)) return;
    for (const [outcome, transition] of transitionsFrom(source.flow, state)) {
      if (!outcome.includes('.') && mayFollow(source.flow, state, transition)) follow(source, transition);
    }
  }

  function mayFollow(flow: Flow, hub: FlowState, transition: FlowTransition): boolean {
    const order = hub.decide === null ? undefined : registry.decisions?.get(hub.decide)?.inOrder;
    const to = transition.target === null ? undefined : flow.states.get(transition.target);
    if (!order || !to?.ask || flow !== from.source.flow) return true;
    const place = (state: FlowState) => order.findIndex((one) => hub.transitions.get(one)?.target === state.name);
    if (place(from.state) < 0 || place(to) > place(from.state)) return true;
    return Boolean(to.ask.each && from.state.ask?.each);
  }
}
