/** Holds a scenario against the flows and texts that it names. */
import type { FlowOption } from '../conversation/flow.ts';
import { placeForm } from '../training/reply.ts';
import { keyOf, type WrittenStep } from './build-scenario.ts';
import { closest } from './closest.ts';
import type { Content } from './load.ts';
import type { Problem } from './problem.ts';
import type { CommonSource, ScenarioSource } from './scenario-file.ts';
import type { TrainingWords } from './scenario-words.ts';
import { questionsOf } from './transition-keys.ts';
import type { Path, YamlSource } from './yaml-source.ts';

/** Faults with their lines: steps that nothing asks, answers that a question lacks, steps without a reason. */
export function checkScenario(
  source: ScenarioSource,
  steps: readonly WrittenStep[],
  { file, lineOf }: YamlSource,
  content: Pick<Content, 'flows' | 'texts'>,
  spoken: TrainingWords,
): readonly Problem[] {
  const problem = (path: Path, what: string, todo: string): Problem => ({
    file,
    line: lineOf(path),
    path: path.join('.'),
    what,
    todo,
  });
  const asked = askedSteps(content);
  const found: Problem[] = [];
  const words = spoken.of.get(source.scenario);
  if (!words) found.push(problem(['scenario'], 'has no words', `write them in ${spoken.file}`));
  for (const step of steps) {
    const options = asked.get(step.at);
    if (options === undefined && step.at !== 'begin' && !content.texts.has(step.at)) {
      const near = closest(step.at, [...asked.keys()]);
      found.push(
        problem(step.path, `no text is called ${step.at}`, near === null ? 'correct it' : `did you mean ${near}?`),
      );
    }
    for (const reply of [step.send, ...step.also]) {
      if (typeof reply === 'string') {
        const odd = reply.startsWith('/') ? null : reply.replace(placeForm, '').match(/\{[^}]*\}?/u);
        if (odd) found.push(problem(step.path, `nothing fills ${odd[0]}`, 'see placeForm in src/training/reply.ts'));
        if (reply.includes('{found}') && step.find === null)
          found.push(problem(step.path, '{found} has nothing to find', 'give a find'));
      } else if (options) {
        for (const id of reply.filter((one) => !options.some((option) => option.id === one)))
          found.push(
            problem(step.path, `${step.at} has no option ${id}`, `use one of: ${options.map((one) => one.id)}`),
          );
      }
    }
    if (step.find !== null && !isPattern(step.find))
      found.push(problem(step.path, 'find is no regular expression', 'correct it'));
    const why = words?.why?.[keyOf(step.at, step.nth)] ?? spoken.common.why[step.at];
    if (step.part === source.you && why === undefined)
      found.push(problem(step.path, `nothing says why ${step.at} is answered so`, `add it in ${spoken.file}`));
  }
  const keys = new Set(steps.map(({ at, nth }) => keyOf(at, nth)));
  for (const part of ['scenes', 'why', 'wrong'] as const)
    for (const key of Object.keys(words?.[part] ?? {}).filter((one) => !keys.has(one)))
      found.push(inWords(spoken, [source.scenario, part, key], `the way has no step ${key}`));
  for (const key of Object.keys(source.but ?? {}).filter((one) => !keys.has(one)))
    found.push(problem(['but', key], `the way has no step ${key}`, 'correct or remove it'));
  if (!steps.some(({ at }) => at === 'begin')) found.push(problem(['way'], 'nobody begins', 'add begin: NEW'));
  if (!steps.some(({ part }) => part === source.you)) found.push(problem(['you'], 'has nothing to do', 'add a step'));
  return found;
}

function inWords({ file, lineOf }: TrainingWords, path: Path, what: string): Problem {
  return { file, line: lineOf(path), path: path.join('.'), what, todo: 'correct or remove it' };
}

/** Faults of what the scenarios share: steps that nothing asks, answers that a question lacks. */
export function checkCommon(
  common: CommonSource,
  { file, lineOf }: YamlSource,
  content: Pick<Content, 'flows' | 'texts'>,
  spoken: TrainingWords,
): readonly Problem[] {
  const asked = askedSteps(content);
  const found: Problem[] = [];
  const problem = (path: Path, what: string, todo: string): void => {
    found.push({ file, line: lineOf(path), path: path.join('.'), what, todo });
  };
  const known = (at: string): boolean => at === 'begin' || asked.has(at) || content.texts.has(at);
  for (const part of ['by', 'find', 'also', 'within', 'after', 'again', 'elsewhere'] as const)
    for (const at of Object.keys(common[part]).filter((one) => !known(one)))
      problem([part, at], `no text is called ${at}`, 'correct or remove it');
  for (const [at, first] of Object.entries(common.again))
    if (!known(first)) problem(['again', at], `no text is called ${first}`, 'correct it');
  for (const part of ['why', 'wrong'] as const)
    for (const at of Object.keys(spoken.common[part]).filter((one) => !known(one)))
      found.push(inWords(spoken, ['common', part, at], `no text is called ${at}`));
  for (const [at, reply] of Object.entries(common.elsewhere))
    for (const id of typeof reply === 'string' ? [] : reply)
      if (asked.get(at)?.every((option) => option.id !== id))
        problem(['elsewhere', at], `${at} has no option ${id}`, `use one of: ${asked.get(at)!.map((one) => one.id)}`);
  return found;
}

/** Options by `flow.step` of every question; those of doctors by the text that asks them. */
function askedSteps({ flows }: Pick<Content, 'flows'>): ReadonlyMap<string, readonly Pick<FlowOption, 'id'>[]> {
  const all = new Map<string, Pick<FlowOption, 'id'>[]>();
  for (const flow of flows.newest.values())
    for (const [name, state] of flow.states) {
      if (state.ask) all.set(`${flow.name}.${name}`, [...state.ask.options]);
    }
  for (const { about, options } of [...flows.newest.values()].flatMap(questionsOf)) {
    const key = `doctor.${about}`;
    all.set(key, [...(all.get(key) ?? []), ...options]);
  }
  return all;
}

function isPattern(source: string): boolean {
  try {
    new RegExp(source, 'u');
    return true;
  } catch {
    return false;
  }
}
