/** Makes a scenario of its file and of what all of them share. */
import type { Part, Reply, Scenario, Step } from '../training/scenario.ts';
import { parseDuration } from './duration.ts';
import type { Problem } from './problem.ts';
import type { CommonSource, ScenarioSource, StepSource } from './scenario-file.ts';
import type { CommonWords, ScenarioWords } from './scenario-words.ts';
import type { Path, YamlSource } from './yaml-source.ts';

type ReplySource = string | readonly string[];

/** A step as it is written out, with its place in the file of its scenario. */
export interface WrittenStep {
  readonly at: string;
  readonly part: Part;
  readonly send: ReplySource;
  readonly also: readonly ReplySource[];
  readonly find: string | null;
  readonly within: string | null;
  readonly after: string | null;
  /** Which time this person is asked it, from 1. */
  readonly nth: number;
  readonly path: Path;
}

/** Courses put in for their names. */
export function stepsInOrder(
  source: ScenarioSource,
  common: CommonSource,
  { file, lineOf }: YamlSource,
): { readonly steps: readonly WrittenStep[]; readonly faults: readonly Problem[] } {
  const steps: WrittenStep[] = [];
  const faults: Problem[] = [];
  const add = (one: StepSource, path: Path, inCourse: boolean): void => {
    if ('course' in one && typeof one.course === 'string') {
      const course = common.courses[one.course];
      if (course && !inCourse) for (const step of course) add(step, path, true);
      else {
        const todo = inCourse ? 'write its steps out' : `use one of: ${Object.keys(common.courses).join(', ')}`;
        faults.push({ file, line: lineOf(path), path: path.join('.'), what: `there is no course ${one.course}`, todo });
      }
      return;
    }
    for (const step of writtenOut(one)) {
      const part = step.by ?? common.by[step.at] ?? 'worker';
      const nth = steps.filter((before) => before.at === step.at && before.part === part).length + 1;
      const instead = inCourse ? source.but?.[keyOf(step.at, nth)] : undefined;
      steps.push({
        at: step.at,
        part,
        send: instead ?? step.send,
        also: step.also ?? (instead === undefined ? common.also[step.at] : undefined) ?? [],
        find: step.find ?? common.find[step.at] ?? null,
        within: step.within ?? common.within[step.at] ?? null,
        after: step.after ?? common.after[step.at] ?? null,
        nth,
        path,
      });
    }
  };
  source.way.forEach((one, index) => {
    add(one, ['way', index], false);
  });
  return { steps, faults };
}

interface FullStep {
  readonly at: string;
  readonly by?: Part | undefined;
  readonly send: ReplySource;
  readonly also?: readonly ReplySource[] | undefined;
  readonly find?: string | undefined;
  readonly within?: string | undefined;
  readonly after?: string | undefined;
}

function writtenOut(one: StepSource): readonly FullStep[] {
  if ('at' in one && 'send' in one) return [one as FullStep];
  return Object.entries(one as Readonly<Record<string, ReplySource>>).map(([at, send]) => ({ at, send }));
}

/** `sampling.report`, and `sampling.report 2` the second time. */
export const keyOf = (at: string, nth: number): string => (nth === 1 ? at : `${at} ${nth}`);

/** The scenario itself. */
export function buildScenario(
  source: ScenarioSource,
  written: readonly WrittenStep[],
  common: CommonSource,
  words: ScenarioWords,
  shared: CommonWords,
): Scenario {
  const { scenario: id, order, you, guided = false, patient, looks } = source;
  const steps = written.map(
    (one): Step => ({
      part: one.part,
      at: one.at,
      send: replyOf(one.send),
      also: one.also.map(replyOf),
      find: one.find,
      withinMs: one.within === null ? null : parseDuration(one.within),
      afterMs: one.after === null ? 0 : parseDuration(one.after)!,
      scene: ofStep(words.scenes, one) ?? '',
      why: ofStep(words.why, one) ?? shared.why[one.at] ?? '',
      wrong: { ...shared.wrong[one.at], ...ofStep(words.wrong, one) },
    }),
  );
  const elsewhere = Object.fromEntries(Object.entries(common.elsewhere).map(([at, reply]) => [at, replyOf(reply)]));
  const { title, about, card, table } = words;
  return { id, order, you, guided, patient, looks, steps, again: common.again, elsewhere, title, about, card, table };
}

/** What is said of this step; of its first time also what is said of the step as such. */
export function ofStep<T>(said: Readonly<Record<string, T>> | undefined, { at, nth }: WrittenStep): T | undefined {
  return said?.[keyOf(at, nth)];
}

const replyOf = (reply: ReplySource): Reply => (typeof reply === 'string' ? { text: reply } : { ids: reply });
