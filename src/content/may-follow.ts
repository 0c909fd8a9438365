/** Which question may come right after which, whatever is decided between the two. */
import type { Flow, FlowAsk, FlowState, FlowTransition } from '../conversation/flow.ts';
import { goesOn } from './transition-keys.ts';

/** What an answer leads to: the questions by name (`flow.state`) that may be asked next. */
export interface Follower {
  /** Ids of the options that lead there, `any` for a number. */
  readonly answers: readonly string[];
  readonly next: readonly string[];
}

/** Where a flow goes on that another one ran. */
interface Caller {
  readonly flow: Flow;
  readonly target: string;
}

/**
 * The questions that may be asked right after another one. What is decided, recorded and said between them stops nobody, so each
 * outcome of a decision is followed: whichever findings are known before (a quick text may say any of them), the pair is
 * here. What waits for somebody else, for a time or for an event ends the way.
 */
export class MayFollow {
  private readonly flows: ReadonlyMap<string, Flow>;
  private readonly callers = new Map<string, Caller[]>();

  constructor(flows: readonly Flow[]) {
    this.flows = new Map(flows.map((flow) => [flow.name, flow]));
    for (const flow of flows) for (const state of flow.states.values()) this.noteRuns(flow, state);
  }

  /** What may be asked after each answer of this question. */
  after(flow: Flow, state: FlowState): readonly Follower[] {
    const { ask } = state;
    if (ask === null) return [];
    return [...state.transitions].flatMap(([key, transition]) => {
      const answers = answersBy(state, ask, key);
      if (answers.length === 0) return [];
      const found = new Found();
      this.take(flow, transition, found);
      return found.questions.size === 0 ? [] : [{ answers, next: [...found.questions] }];
    });
  }

  private noteRuns(flow: Flow, state: FlowState): void {
    for (const { run, target } of state.transitions.values()) {
      if (run === null || target === null) continue;
      this.callers.set(run, [...(this.callers.get(run) ?? []), { flow, target }]);
    }
  }

  private take(flow: Flow, { run, flow: other, target }: FlowTransition, found: Found): void {
    const begun = this.flows.get(run ?? other ?? '');
    if (begun) this.enter(begun, begun.initial, found);
    // What was run is over, or this flow took the place of one that was run.
    else if (target !== null) this.enter(flow, target, found);
  }

  private enter(flow: Flow, name: string, found: Found): void {
    const state = flow.states.get(name);
    const place = `${flow.name}.${name}`;
    if (!state || found.seen.has(place)) return;
    found.seen.add(place);
    if (state.ask !== null && state.decide === null) found.questions.add(place);
    else if (state.final) this.leave(flow, found);
    else if (goesOn(state)) {
      for (const [key, transition] of state.transitions) if (isOwn(state, key)) this.take(flow, transition, found);
    }
  }

  /** Back to whoever ran this flow, or a flow that went on in it. */
  private leave(flow: Flow, found: Found): void {
    if (found.left.has(flow.name)) return;
    found.left.add(flow.name);
    for (const caller of this.callers.get(flow.name) ?? []) this.enter(caller.flow, caller.target, found);
    for (const before of this.flows.values()) if (goesOnIn(before, flow)) this.leave(before, found);
  }
}

class Found {
  readonly seen = new Set<string>();
  readonly left = new Set<string>();
  readonly questions = new Set<string>();
}

function goesOnIn(before: Flow, after: Flow): boolean {
  return [...before.states.values()].some((state) =>
    [...state.transitions.values()].some((one) => one.flow === after.name),
  );
}

/** An outcome of what is decided here, or simply the way on: no timer, doctor or event. */
function isOwn(state: FlowState, key: string): boolean {
  return state.decide === null ? key === 'next' : !key.includes('.') && key !== 'answer';
}

/** The answers of this question that this transition is taken by. */
function answersBy(state: FlowState, ask: FlowAsk, key: string): readonly string[] {
  const ids = ask.options.map((one) => one.id);
  if (ids.includes(key)) return [key];
  if (key.includes('.') || key === 'answer') return [];
  const open = ids.filter((id) => !state.transitions.has(id));
  if (key === 'answered') return takesNumber(ask) ? [...open, 'any'] : open;
  // A word of the question's reader.
  return ask.reader === null ? [] : [...ids, 'any'];
}

function takesNumber(ask: FlowAsk): boolean {
  return ask.kind === 'number' || ask.kind === 'diameters';
}
