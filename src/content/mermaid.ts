import type { Flow, FlowState, FlowTransition } from '../conversation/flow.ts';

/** A flow as a Mermaid state diagram. Flows that run on top or take over stand as notes on the arrow. */
export function mermaidOf(flow: Flow): string {
  const head = ['---', `title: ${flow.name}`, '---', 'stateDiagram-v2'];
  const lines: string[] = [];
  for (const state of flow.states.values()) lines.push(`  state "${caption(state)}" as ${idOf(state.name)}`);
  lines.push(`  [*] --> ${idOf(flow.initial)}`);
  for (const state of flow.states.values()) {
    for (const [key, transition] of state.transitions) lines.push(arrow(state.name, key, transition));
    if (state.final) lines.push(`  ${idOf(state.name)} --> [*]`);
  }
  if (flow.anywhere.size > 0) lines.push('  state "anywhere" as anywhere_');
  for (const [key, transition] of flow.anywhere) lines.push(arrow('anywhere_', key, transition));
  return `${[...head, ...lines].join('\n')}\n`;
}

function caption(state: FlowState): string {
  if (state.decide !== null) return `${state.name}: decides ${state.decide}`;
  if (state.ask !== null) return `${state.name}: asks ${state.ask.field}`;
  return state.name;
}

function arrow(from: string, key: string, transition: FlowTransition): string {
  const notes = [
    transition.question ? `asks doctor ${transition.question.about}` : '',
    transition.run !== null ? `runs ${transition.run}` : '',
    transition.flow !== null ? `goes on in ${transition.flow}` : '',
  ].filter((note) => note !== '');
  const to = transition.flow !== null ? '[*]' : idOf(transition.target ?? from);
  return `  ${idOf(from)} --> ${to}: ${[key, ...notes].join(', ')}`;
}

/** Mermaid ids hold no dashes, and `end` and the like are words of its own. */
function idOf(state: string): string {
  return state === 'anywhere_' ? state : `s_${state.replaceAll('-', '_')}`;
}
