/** Which states, transitions and choices of the flows were used: what was never visited is told by its name. */
import { exitsAt } from '../../src/conversation/exits.ts';
import type { Flow, FlowSet, FlowTransition } from '../../src/conversation/flow.ts';
import { doctorChoices } from './doctor-choices.ts';

/** Counts what is looked up and found. */
class Noticed<T> extends Map<string, T> {
  private readonly notice: (key: string) => void;

  constructor(of: ReadonlyMap<string, T>, notice: (key: string) => void) {
    super(of);
    this.notice = notice;
  }

  override get(key: string): T | undefined {
    const found = super.get(key);
    if (found !== undefined) this.notice?.(key);
    return found;
  }
}

export interface Unvisited {
  readonly states: readonly string[];
  readonly transitions: readonly string[];
  /** Of the transitions those that somebody takes by a word: refused, gone, no needle, another day. */
  readonly exits: readonly string[];
  /** Of each question of a doctor, those made in code too. */
  readonly doctors: readonly string[];
  /** Of each other question, its exits too. */
  readonly choices: readonly string[];
  /** Shares of all, 0 to 1. */
  readonly stateShare: number;
  readonly transitionShare: number;
}

export class Coverage {
  /** Flows that behave as before and are watched. */
  readonly flows: FlowSet;
  private readonly plain: readonly Flow[];
  private readonly taken = new Set<string>();
  private readonly entered = new Set<string>();
  private readonly chosen = new Set<string>();

  constructor(flows: FlowSet) {
    this.plain = [...flows.newest.values()];
    const watched = new Map(this.plain.map((flow) => [flow.hash, this.watch(flow)]));
    this.flows = {
      newest: new Map([...flows.newest].map(([name, flow]) => [name, watched.get(flow.hash)!])),
      byHash: new Map([...flows.byHash].map(([hash, flow]) => [hash, watched.get(hash) ?? flow])),
    };
  }

  /** Somebody answered: `field` of a flow or subject of a doctor's question. */
  choose(field: string, option: string): void {
    this.chosen.add(`${field} ${option}`);
  }

  /** Every transition by its name: `flow.state outcome`, `flow outcome` of those that are taken anywhere. */
  transitions(): readonly string[] {
    return this.plain.flatMap((flow) => [
      ...[...flow.states.values()].flatMap((state) =>
        [...state.transitions.keys()].map((key) => `${flow.name}.${state.name} ${key}`),
      ),
      ...[...flow.anywhere.keys()].map((key) => `${flow.name} ${key}`),
    ]);
  }

  unvisited(): Unvisited {
    const states = this.plain.flatMap((flow) => [...flow.states.keys()].map((state) => `${flow.name}.${state}`));
    const transitions = this.transitions();
    const left = <T extends string>(all: readonly T[], seen: ReadonlySet<string>): T[] =>
      all.filter((one) => !seen.has(one));
    const choices = [...new Set(this.plain.flatMap(choicesOf))];
    const unseen = left(states, this.entered);
    const untaken = left(transitions, this.taken);
    const isExit = (one: string): boolean => / exit\./.test(one);
    return {
      states: unseen,
      transitions: untaken,
      exits: untaken.filter(isExit),
      doctors: left(doctorChoices, this.chosen),
      choices: left(choices, this.chosen),
      stateShare: 1 - unseen.length / states.length,
      transitionShare: 1 - untaken.length / transitions.length,
    };
  }

  private watch(flow: Flow): Flow {
    const enter = (name: string | null, state: string | null): void => {
      if (name !== null && state !== null) this.entered.add(`${name}.${state}`);
    };
    const begin = (name: string | null): void =>
      enter(name, this.plain.find((one) => one.name === name)?.initial ?? null);
    const watched = (from: string, all: ReadonlyMap<string, FlowTransition>): ReadonlyMap<string, FlowTransition> =>
      new Noticed(all, (key) => {
        this.taken.add(`${from} ${key}`);
        const { target, flow: next, run } = all.get(key)!;
        enter(flow.name, target);
        begin(next);
        begin(run);
      });
    const states = new Map(
      [...flow.states].map(([name, state]) => [
        name,
        { ...state, transitions: watched(`${flow.name}.${name}`, state.transitions) },
      ]),
    );
    return {
      ...flow,
      anywhere: watched(flow.name, flow.anywhere),
      states: new Noticed(states, (name) => {
        // The first state is entered by whatever starts the flow: a command, another flow, a due row.
        if (name === flow.initial) enter(flow.name, name);
      }),
    };
  }
}

/** Every option and every exit of every question of a flow. */
function choicesOf(flow: Flow): readonly string[] {
  return [...flow.states.values()].flatMap((state) => {
    if (state.ask === null) return [];
    const exits = exitsAt(flow, state).map((kind) => `exit.${kind}`);
    return [...state.ask.options.map(({ id }) => id), ...exits].map((id) => `${flow.name}.${state.name} ${id}`);
  });
}
