/** Traits of all flows together. */
import { dutyRules } from '../case/duty.ts';
import type { CheckRegistry } from './check-registry.ts';
import { suggestion } from './closest.ts';
import type { FlowSource } from './load.ts';
import type { Problem } from './problem.ts';
import type { Path } from './yaml-source.ts';

/** Statuses in which a worker owes the next step: each needs a flow in which its cases are carried on. */
const carried = Object.entries(dutyRules).flatMap(([status, { owner }]) => (owner === 'worker' ? [status] : []));

/** Problems of traits that fit nothing, and of those that are lacking to what the code was built with. */
export function checkTraits(sources: readonly FlowSource[], registry: CheckRegistry): readonly Problem[] {
  return [
    ...sources.flatMap(timersMissing),
    ...twiceCarried(sources),
    ...(registry.shipped ? traitsMissing(sources) : []),
  ];
}

function timersMissing(source: FlowSource): readonly Problem[] {
  return [...source.flow.states.values()].flatMap(({ name, traits: { resumesOn }, timers }) => {
    const names = timers.map((timer) => timer.name);
    if (resumesOn === undefined || names.includes(resumesOn)) return [];
    const todo = suggestion(resumesOn, names, `add it to the timers of ${name}`);
    return [at(source, ['states', name, 'traits', 'resumesOn'], `the state has no timer ${resumesOn}`, todo)];
  });
}

function twiceCarried(sources: readonly FlowSource[]): readonly Problem[] {
  return sources.flatMap((source, index) => {
    const { carries } = source.flow.traits;
    const other = sources.slice(0, index).find((one) => carries !== undefined && one.flow.traits.carries === carries);
    if (!other) return [];
    return [at(source, ['traits', 'carries'], `${other.flow.name} carries ${carries} too`, 'leave it to one of them')];
  });
}

function traitsMissing(sources: readonly FlowSource[]): readonly Problem[] {
  const lacking = carried.filter((status) => !sources.some(({ flow }) => flow.traits.carries === status));
  const alarm = (['raised', 'offered'] as const).filter(
    (one) => !sources.some(({ flow }) => flow.traits.alarm === one),
  );
  return [
    ...lacking.map((status) =>
      inFlows(`no flow has the trait carries: ${status}`, 'give it to the flow of that status'),
    ),
    ...alarm.map((one) => inFlows(`no flow has the trait alarm: ${one}`, 'give it to the flow of first aid')),
  ];
}

function at(source: FlowSource, path: Path, what: string, todo: string): Problem {
  return { file: source.file, line: source.lineOf(path), path: path.join('.'), what, todo };
}

function inFlows(what: string, todo: string): Problem {
  return { file: 'flows', line: 1, path: '-', what, todo };
}
