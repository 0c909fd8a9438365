/** The scenarios of the package, from `flows/scenarios`. */
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { z } from 'zod';
import type { Training } from '../training/scenario.ts';
import { buildScenario, stepsInOrder } from './build-scenario.ts';
import { checkCommon, checkScenario } from './check-scenario.ts';
import type { Content } from './load.ts';
import { packageRoot } from './load.ts';
import { type Problem, sortProblems } from './problem.ts';
import { commonSchema, scenarioSchema } from './scenario-file.ts';
import { readTrainingWords, trainingWordProblems } from './scenario-words.ts';
import { schemaProblems } from './schema-problems.ts';
import { baseLocale } from './texts.ts';
import { readYaml, type YamlSource } from './yaml-source.ts';

const folder = 'flows/scenarios';
const commonFile = `${folder}/common.yaml`;

export interface LoadedTraining extends Training {
  readonly problems: readonly Problem[];
}

/**
 * Reads all scenarios and holds them against the flows and texts they name. Not to be used while `problems` is not empty. A
 * package without the folder has none. `language`: of what is said in them, English where it says nothing.
 */
export function loadTraining(
  content: Pick<Content, 'flows' | 'texts'>,
  root: string = packageRoot,
  language: string = baseLocale,
): LoadedTraining {
  const problems: Problem[] = [];
  const readAs = <S extends z.ZodType>(file: string, schema: S, keys: readonly string[]) => {
    const source = readYaml(file, readFileSync(join(root, file), 'utf8'));
    problems.push(...source.problems);
    if (source.problems.length > 0) return null;
    const parsed = schema.safeParse(source.data, { reportInput: true });
    if (parsed.success) return { source, data: parsed.data };
    problems.push(...schemaProblems(source, parsed.error, keys));
    return null;
  };
  if (!existsSync(join(root, folder))) return { ...nothing, problems };
  const common = readAs(commonFile, commonSchema, Object.keys(commonSchema.shape));
  const read = readdirSync(join(root, folder))
    .filter((name) => name.endsWith('.yaml') && !commonFile.endsWith(`/${name}`))
    .sort()
    .flatMap((name) => readAs(`${folder}/${name}`, scenarioSchema, Object.keys(scenarioSchema.shape)) ?? []);
  const english = readTrainingWords(root, baseLocale, problems);
  if (!common || !english) return { ...nothing, problems: sortProblems(problems) };
  problems.push(...checkCommon(common.data, common.source, content, english));
  for (const { tag } of content.texts.languages) {
    const own = tag === baseLocale ? null : readTrainingWords(root, tag, problems);
    if (own) problems.push(...trainingWordProblems(english, own));
  }
  const spoken = (language === baseLocale ? null : readTrainingWords(root, language, [])) ?? english;
  const scenarios = read.flatMap(({ source, data }) => {
    const { steps, faults } = stepsInOrder(data, common.data, source);
    problems.push(...faults, ...checkScenario(data, steps, source, content, english), ...named(data.scenario, source));
    const words = spoken.of.get(data.scenario) ?? english.of.get(data.scenario);
    return faults.length > 0 || !words ? [] : [buildScenario(data, steps, common.data, words, spoken.common)];
  });
  scenarios.sort((a, b) => a.order - b.order);
  const { comments, woman: F, man: M } = spoken.common;
  return { scenarios, comments, patients: { F, M }, problems: sortProblems(problems) };
}

function named(id: string, { file, lineOf }: YamlSource): readonly Problem[] {
  if (file === `${folder}/${id}.yaml`) return [];
  const what = `the scenario is called ${id} and its file ${file}`;
  return [{ file, line: lineOf(['scenario']), path: 'scenario', what, todo: 'give both the same name' }];
}

const nothing: Training = {
  scenarios: [],
  comments: {
    right: '',
    late: '',
    other: '',
    unasked: '',
    away: '',
    elsewhere: '',
    help: '',
    alarm: '',
    missedAsked: '',
    missedNever: '',
  },
  patients: { F: '', M: '' },
};
