/** The sense of one flow: everything in it can happen, ends somewhere, and is treated. */
import type { FlowState, FlowTransition } from '../conversation/flow.ts';
import type { Programme } from '../conversation/programme.ts';
import { checkAsk } from './check-ask.ts';
import { checkPaths } from './check-paths.ts';
import type { CheckRegistry, Names } from './check-registry.ts';
import { suggestion } from './closest.ts';
import type { FlowSource } from './load.ts';
import type { Problem } from './problem.ts';
import { dottedNever, goesOn, type questionsOf, whyNever } from './transition-keys.ts';
import type { Path } from './yaml-source.ts';

/** What a flow is checked against. */
export interface CheckAgainst {
  readonly flows: Names;
  readonly programme: Programme;
  /** Every question of every flow: a flow may wait for the answer to another one's question. */
  readonly questions: ReturnType<typeof questionsOf>;
  readonly registry: CheckRegistry;
}

export type Report = (path: Path, what: string, todo: string) => void;

/** Problems of one flow. */
export function checkFlow(source: FlowSource, against: CheckAgainst): readonly Problem[] {
  const { flow } = source;
  const problems: Problem[] = [];
  const report: Report = (path, what, todo) =>
    problems.push({ file: source.file, line: source.lineOf(path), path: path.join('.'), what, todo });

  if (!flow.states.has(flow.initial)) {
    const todo = suggestion(flow.initial, flow.states.keys(), 'name the state to begin with');
    report(['initial'], `there is no state ${flow.initial}`, todo);
    return problems;
  }
  for (const [key, transition] of flow.anywhere) {
    checkTransition(source, against, ['anywhere', key], transition, report);
    const never = key.includes('.') || key === 'answer' ? dottedNever(key, against.questions, against.registry) : [];
    if (never) report(['anywhere', key], 'can never happen', suggestion(key, never, 'use a dotted name, or remove it'));
  }
  for (const state of flow.states.values()) checkState(source, against, state, report);
  checkPaths(flow, report);
  return problems;
}

function checkState(source: FlowSource, against: CheckAgainst, state: FlowState, report: Report): void {
  const { registry, programme } = against;
  const at: Path = ['states', state.name];
  for (const name of state.record) known(registry.recorders, name, [...at, 'record'], 'recorder', report);
  checkQuestion(programme, state, [...at, 'question'], report);
  if (state.final) {
    if (state.transitions.size > 0) {
      report([...at, 'transitions'], 'a final state goes nowhere', 'remove the transitions, or final');
    }
    if (state.ask || state.decide) report(at, 'a final state asks nothing', 'remove ask or decide, or final');
    return;
  }
  if (state.decide !== null) checkDecision(state, at, registry, report);
  if (state.ask !== null) checkAsk(state, at, registry, report);
  checkTimers(state, at, against, report);
  for (const [key, transition] of state.transitions) {
    const path = [...at, 'transitions', key];
    checkTransition(source, against, path, transition, report);
    const never = whyNever(key, state, against.questions, registry);
    if (never) report(path, `${key} can never happen here`, suggestion(key, never, 'remove it'));
    const stays = transition.target === null && transition.flow === null;
    if (stays && goesOn(state) && !key.includes('.')) {
      report(path, 'goes nowhere, and nothing else happens here', 'give a target');
    }
  }
}

function checkDecision(state: FlowState, at: Path, registry: CheckRegistry, report: Report): void {
  if (state.ask !== null) report([...at, 'ask'], 'a state either decides or asks', 'make two states of it');
  if (!registry.decisions) return;
  const decision = registry.decisions.get(state.decide!);
  if (!decision) {
    known(registry.decisions, state.decide!, [...at, 'decide'], 'decision', report);
    return;
  }
  for (const outcome of decision.outcomes) {
    if (state.transitions.has(outcome)) continue;
    report([...at, 'transitions'], `the outcome ${outcome} of ${state.decide} is not treated`, `add ${outcome}:`);
  }
}

function checkTimers(state: FlowState, at: Path, against: CheckAgainst, report: Report): void {
  for (const timer of state.timers) {
    const path = [...at, 'timers', timer.name];
    if (timer.after !== null && !(timer.after in against.programme.durations)) {
      const todo = suggestion(timer.after, Object.keys(against.programme.durations), 'add it to flows/programme.yaml');
      report([...path, 'after'], `the programme has no duration ${timer.after}`, todo);
    }
    if (timer.at !== null) known(against.registry.instants, timer.at, [...path, 'at'], 'instant', report);
    if (!state.transitions.has(`timer.${timer.name}`)) {
      report(path, 'nothing happens when this timer is due', `add timer.${timer.name}: to the transitions`);
    }
  }
  if (state.timers.length > 0 && goesOn(state)) {
    report([...at, 'timers'], 'the state goes on at once, so its timers never run', 'remove them, or decide or next');
  }
}

function checkTransition(
  source: FlowSource,
  against: CheckAgainst,
  path: Path,
  transition: FlowTransition,
  report: Report,
): void {
  const { target, run, flow } = transition;
  for (const name of transition.record) {
    known(against.registry.recorders, name, [...path, 'record'], 'recorder', report);
  }
  checkQuestion(against.programme, transition, [...path, 'question'], report);
  if (target !== null && !source.flow.states.has(target)) {
    const todo = suggestion(target, source.flow.states.keys(), 'name a state of this flow');
    report([...path, 'target'], `there is no state ${target}`, todo);
  }
  if (run !== null) known(against.flows, run, [...path, 'run'], 'flow', report);
  if (flow !== null) known(against.flows, flow, [...path, 'flow'], 'flow', report);
  if (flow !== null && (run !== null || target !== null)) {
    report([...path, 'flow'], 'flow replaces this flow, so run and target are never reached', 'keep one of them');
  }
}

function checkQuestion(programme: Programme, holder: Pick<FlowState, 'question'>, path: Path, report: Report): void {
  const { question } = holder;
  if (!question) return;
  if (!(question.urgency in programme.urgencies)) {
    const todo = suggestion(question.urgency, Object.keys(programme.urgencies), 'add it to flows/programme.yaml');
    report([...path, 'urgency'], `the programme has no urgency ${question.urgency}`, todo);
  }
  const replies = question.options.map((option) => option.reply);
  if (replies.includes('')) report([...path, 'options'], 'more answers than the digits 1 to 8', 'ask less at once');
  if (new Set(replies).size < replies.length) {
    report([...path, 'options'], 'two answers share a digit', 'give each its own');
  }
}

function known(names: Names | undefined, name: string, path: Path, kind: string, report: Report): void {
  if (!names || names.has(name)) return;
  report(path, `there is no ${kind} ${name}`, suggestion(name, names.keys(), `add the ${kind} or remove it`));
}
