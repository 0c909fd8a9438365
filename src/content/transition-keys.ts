import type { Flow, FlowQuestion, FlowState, FlowTransition } from '../conversation/flow.ts';
import type { CheckRegistry } from './check-registry.ts';

/** Every question to a doctor that a flow opens, in states and on transitions. */
export function questionsOf(flow: Flow): readonly FlowQuestion[] {
  const holders: (FlowState | FlowTransition)[] = [...flow.anywhere.values()];
  for (const state of flow.states.values()) holders.push(state, ...state.transitions.values());
  return holders.flatMap((one) => one.question ?? []);
}

/** The state goes on by itself: nobody is asked and nothing is awaited. */
export function goesOn(state: FlowState): boolean {
  return state.decide !== null || (state.ask === null && state.transitions.has('next'));
}

/** A transition of this state as it would be taken: its own, then the flow's. */
export function transitionsFrom(flow: Flow, state: FlowState): ReadonlyMap<string, FlowTransition> {
  return new Map([...flow.anywhere, ...state.transitions]);
}

/**
 * Whether something can cause a transition of this name in this state: null when it can, else what could.
 * Doctors' answers come as `answer.<answer>` or `answer` to the frame that asked, else as `<about>.<answer>` or
 * `<about>`; timers as `timer.<name>`; other dotted names are events of the code.
 */
export function whyNever(
  key: string,
  state: FlowState,
  questions: readonly FlowQuestion[],
  registry: CheckRegistry,
): readonly string[] | null {
  if (key.startsWith('timer.')) {
    const timers = state.timers.map((timer) => `timer.${timer.name}`);
    return timers.includes(key) ? null : timers;
  }
  if (key.includes('.') || key === 'answer' || questions.some((one) => one.about === key)) {
    return dottedNever(key, questions, registry);
  }
  if (state.decide !== null) {
    const outcomes = registry.decisions?.get(state.decide)?.outcomes;
    return outcomes && !outcomes.includes(key) ? outcomes : null;
  }
  if (state.ask !== null) {
    if (state.ask.reader !== null) return null;
    const known = [
      ...(state.ask.kind === 'choice' ? state.ask.options.map((one) => one.id) : []),
      'answered',
      'unreadable',
    ];
    return known.includes(key) ? null : known;
  }
  const known = ['next', 'unanswered', ...state.timers.map((timer) => `timer.${timer.name}`)];
  return known.includes(key) ? null : known;
}

/** The same for names that hold in the whole flow. */
export function dottedNever(
  key: string,
  questions: readonly FlowQuestion[],
  registry: CheckRegistry,
): readonly string[] | null {
  const [about, ...rest] = key.split('.');
  const own = about === 'answer';
  const asked = own ? questions : questions.filter((one) => one.about === about);
  if (asked.length > 0) {
    if (rest.length === 0) return null;
    const answers = asked.flatMap((one) => one.options.map((option) => option.id)).concat('words');
    return answers.includes(rest.join('.')) ? null : answers.map((answer) => `${about}.${answer}`);
  }
  // A recorder may open a question too: what its answers are stands in code only.
  if (own || !registry.events || registry.events.has(key)) return null;
  return [...registry.events.keys()];
}
