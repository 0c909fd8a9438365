/** The shipped content with a flow or a state under another name, and what is played with it. */
import { runPlay } from '../../src/cli/play.ts';
import { structureHash } from '../../src/content/flow-json.ts';
import { type Content, flowSet } from '../../src/content/load.ts';
import type { Flow, FlowState, FlowTransition } from '../../src/conversation/flow.ts';
import type { FlowName } from '../../src/generated/flow-names.ts';
import type { StateName } from '../../src/generated/state-names.ts';

/** The content with this flow called otherwise, in every transition that leads to it too. Its texts stay where they are. */
export function withFlowCalled(content: Content, from: string, to: string): Content {
  // Names that the product does not have.
  const named = <N extends FlowName | null>(name: N): N => (name === from ? (to as N) : name);
  return withFlows(content, (flow) => ({
    ...flow,
    name: named(flow.name),
    ...withTransitions(flow, (one) => ({ ...one, run: named(one.run), flow: named(one.flow) })),
  }));
}

/** The content with this state of a flow called otherwise. Its texts stay where they are. */
export function withStateCalled(content: Content, of: string, from: string, to: string): Content {
  const named = <N extends StateName>(name: N): N => (name === from ? (to as N) : name);
  return withFlows(content, (flow) => {
    if (flow.name !== of) return flow;
    const target = (one: FlowTransition) => ({ ...one, target: one.target && named(one.target) });
    const { anywhere, states } = withTransitions(flow, target);
    const renamed = [...states.values()].map((state) => ({ ...state, name: named(state.name) }));
    return { ...flow, initial: named(flow.initial), anywhere, states: byName(renamed) };
  });
}

/** The content, with a note of each state that is asked for, as `flow.state`. */
export function watched(content: Content, note: (place: string) => void): Content {
  return withFlows(content, (flow) => ({ ...flow, states: new NotedStates(flow, note) }));
}

class NotedStates extends Map<string, FlowState> {
  private readonly note: (name: string) => void;

  constructor(flow: Flow, note: (place: string) => void) {
    super();
    for (const [name, state] of flow.states) this.set(name, state);
    this.note = (name) => note(`${flow.name}.${name}`);
  }

  override get(name: string): FlowState | undefined {
    this.note?.(name);
    return super.get(name);
  }
}

/** What `play FILE` prints with this content. */
export async function transcriptOf(file: string, content: Content): Promise<string> {
  let printed = '';
  const out = { write: (text: string) => (printed += text) };
  const code = await runPlay([file], { stdin: process.stdin, stdout: out, stderr: out }, () => content);
  return `${printed}exit ${code}\n`;
}

function withFlows(content: Content, change: (flow: Flow) => Flow): Content {
  const flows = content.sources.flows.map((source) => {
    const flow = change(source.flow);
    return { ...source, flow: { ...flow, hash: structureHash(flow) } };
  });
  return { ...content, flows: flowSet(flows.map((one) => one.flow)), sources: { ...content.sources, flows } };
}

function withTransitions(
  flow: Flow,
  change: (one: FlowTransition) => FlowTransition,
): Pick<Flow, 'anywhere' | 'states'> {
  const all = (from: ReadonlyMap<string, FlowTransition>) => new Map([...from].map(([key, one]) => [key, change(one)]));
  const states = [...flow.states.values()].map((state) => ({ ...state, transitions: all(state.transitions) }));
  return { anywhere: all(flow.anywhere), states: byName(states) };
}

function byName(states: readonly FlowState[]): ReadonlyMap<string, FlowState> {
  return new Map(states.map((state) => [state.name, state]));
}
