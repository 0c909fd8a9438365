/** The ways through a flow: every state reached, none without an end, no chain without a pause. */
import type { Flow, FlowState } from '../conversation/flow.ts';
import type { Report } from './check-flow.ts';
import { goesOn, transitionsFrom } from './transition-keys.ts';

/** Reports unreachable states, states without a way out, endless chains, unanswered waits, and doubtful critical steps. */
export function checkPaths(flow: Flow, report: Report): void {
  const reached = reach(flow, [flow.initial], (state) => targetsOf(flow, state));
  for (const state of flow.states.values()) {
    if (!reached.has(state.name)) {
      report(['states', state.name], 'is never reached', 'lead a transition here, or remove it');
    }
  }
  checkEnds(flow, report);
  checkChains(flow, report);
  for (const state of flow.states.values()) {
    checkWait(flow, state, report);
    checkCritical(flow, state, report);
  }
}

function targetsOf(flow: Flow, state: FlowState): readonly string[] {
  if (state.final) return [];
  return [...transitionsFrom(flow, state).values()].flatMap((one) => one.target ?? []);
}

function reach(
  flow: Flow,
  from: readonly string[],
  next: (state: FlowState) => readonly string[],
): ReadonlySet<string> {
  const seen = new Set<string>(from);
  const open = [...from];
  for (let name = open.pop(); name !== undefined; name = open.pop()) {
    const state = flow.states.get(name);
    for (const target of state ? next(state) : []) {
      if (seen.has(target)) continue;
      seen.add(target);
      open.push(target);
    }
  }
  return seen;
}

function checkEnds(flow: Flow, report: Report): void {
  const isEnd = (state: FlowState) =>
    state.final || [...transitionsFrom(flow, state).values()].some((one) => one.flow !== null);
  for (const state of flow.states.values()) {
    if (state.final) continue;
    const at = ['states', state.name];
    const others = targetsOf(flow, state).filter((target) => target !== state.name);
    if (others.length === 0 && !isEnd(state)) {
      report(at, 'nobody can leave this state', 'add a transition to another state, or final: true');
      continue;
    }
    const ahead = reach(flow, [state.name], (one) => targetsOf(flow, one));
    if (others.every((target) => flow.states.has(target)) && ![...ahead].some((name) => ended(name))) {
      report(at, 'from here the flow never ends', 'lead to a final state or another flow');
    }
  }
  function ended(name: string): boolean {
    const state = flow.states.get(name);
    return state === undefined || isEnd(state);
  }
}

/** Deciding states that lead into each other for ever without asking or waiting. */
function checkChains(flow: Flow, report: Report): void {
  const steps = (state: FlowState): readonly string[] =>
    goesOn(state) ? [...state.transitions.values()].flatMap((one) => (one.run === null ? (one.target ?? []) : [])) : [];
  for (const state of flow.states.values()) {
    if (!goesOn(state)) continue;
    const ahead = reach(flow, steps(state), steps);
    if (ahead.has(state.name)) {
      report(['states', state.name], 'is part of an endless chain of states that go on by themselves', 'ask or wait');
    }
  }
}

/** A question to a doctor must not leave the asker waiting for ever: silence has to be treated as well as an answer. */
function checkWait(flow: Flow, state: FlowState, report: Report): void {
  if (state.ask !== null || state.final || goesOn(state)) return;
  const own = [...state.transitions].filter(([, one]) => one.target === null).flatMap(([, one]) => one.question ?? []);
  const questions = state.question ? [state.question, ...own] : own;
  if (questions.length === 0) return;
  const keys = [...transitionsFrom(flow, state).keys()];
  const named = new Set(['unanswered', 'timer', 'answer', ...questions.map((one) => one.about)]);
  const treated = keys.some((key) => named.has(key.split('.')[0]!));
  if (treated) return;
  const first = questions[0]!;
  const todo = `add a timer, or answer.${first.options[0]?.id ?? 'words'}:`;
  report(['states', state.name, 'question'], 'waits for a doctor and treats neither answer nor silence', todo);
}

/** Where there is no way back, a late digit of one question must not answer the next. */
function checkCritical(flow: Flow, state: FlowState, report: Report): void {
  if (!isCritical(state)) return;
  const through = (one: FlowState) => (goesOn(one) ? targetsOf(flow, one) : []);
  for (const name of reach(flow, targetsOf(flow, state), through)) {
    const following = flow.states.get(name);
    if (!following || following === state || !isCritical(following)) continue;
    const shared = repliesOf(following).filter((reply) => repliesOf(state).includes(reply));
    if (shared.length === 0) continue;
    const what = `shares the reply ${shared.join(', ')} with ${state.name} just before it`;
    report(['states', name, 'ask'], what, 'add numbered, or other replies');
  }
}

function isCritical(state: FlowState): boolean {
  return state.noBack && state.ask !== null && state.ask.numbered === null;
}

function repliesOf(state: FlowState): readonly string[] {
  // Free words with a number in them: no single digit answers those.
  if (state.ask!.kind === 'text') return [];
  return state.ask!.options.filter((option) => !option.secret && option.reply !== '').map((option) => option.reply);
}
