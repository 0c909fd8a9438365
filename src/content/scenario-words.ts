/** Reads `locales/<tag>/scenarios.json`: what a language says in the cases for practice. They stand on the page, so no segment bounds them. */
import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { z } from 'zod';
import { compileTemplate } from '../text/render.ts';
import { readJson } from './json-source.ts';
import type { Problem } from './problem.ts';
import { schemaProblems } from './schema-problems.ts';
import type { Path } from './yaml-source.ts';

const text = z.string().min(1, 'should not be empty');
/** By `flow.step`; its second time is `flow.step 2`. */
const said = z.record(text, text);
const saidOfAnswers = z.record(text, z.record(text, text));

const wordsOfOne = z.strictObject({
  title: text,
  about: text,
  card: z.array(text).min(1),
  table: z.array(text),
  scenes: said.optional(),
  why: said.optional(),
  wrong: saidOfAnswers.optional(),
});

const common = z.strictObject({
  comments: z.strictObject({
    right: text,
    late: text,
    other: text,
    unasked: text,
    away: text,
    elsewhere: text,
    help: text,
    alarm: text,
    missedAsked: text,
    missedNever: text,
  }),
  woman: text,
  man: text,
  why: said,
  wrong: saidOfAnswers,
});

const schema = z.object({ common }).catchall(wordsOfOne);

/** What is said in one scenario, and what is said in all of them. */
export type ScenarioWords = z.infer<typeof wordsOfOne>;
export type CommonWords = z.infer<typeof common>;

export interface TrainingWords {
  readonly file: string;
  readonly common: CommonWords;
  readonly of: ReadonlyMap<string, ScenarioWords>;
  lineOf(path: Path): number;
}

/** The words of a language; null where it has none or they cannot be read. */
export function readTrainingWords(root: string, tag: string, problems: Problem[]): TrainingWords | null {
  const file = `locales/${tag}/scenarios.json`;
  if (!existsSync(join(root, file))) return null;
  const source = readJson(file, readFileSync(join(root, file), 'utf8'));
  problems.push(...source.problems);
  if (source.data === undefined) return null;
  const parsed = schema.safeParse(source.data, { reportInput: true });
  if (!parsed.success) {
    problems.push(...schemaProblems(source, parsed.error, []));
    return null;
  }
  const { common: shared, ...others } = parsed.data;
  const of = new Map(Object.entries(others as Readonly<Record<string, ScenarioWords>>));
  return { file, common: shared, of, lineOf: source.lineOf };
}

/** Where a language says less or more than English, or puts in other values. */
export function trainingWordProblems(english: TrainingWords, own: TrainingWords): readonly Problem[] {
  const all = ({ common: shared, of }: TrainingWords) =>
    new Map(leaves([], { common: shared, ...Object.fromEntries(of) }));
  const [wanted, there] = [all(english), all(own)];
  const at = (key: string, what: string, todo: string): Problem => {
    const path = key.split('\n');
    return { file: own.file, line: own.lineOf(path), path: path.join('.'), what, todo };
  };
  const values = (words: string) => [...compileTemplate(words).placeholders].sort().join(', ') || 'none';
  return [
    ...[...wanted].flatMap(([key, words]) => {
      const other = there.get(key);
      if (other === undefined) return [at(key, 'is missing', 'translate it')];
      if (values(other) === values(words)) return [];
      return [at(key, `has the values ${values(other)}, English has ${values(words)}`, 'use the same')];
    }),
    ...[...there.keys()]
      .filter((key) => !wanted.has(key))
      .map((key) => at(key, 'English says no such thing', 'remove it')),
  ];
}

function leaves(path: readonly string[], value: unknown): readonly (readonly [string, string])[] {
  if (typeof value === 'string') return [[path.join('\n'), value]];
  return Object.entries(value as Readonly<Record<string, unknown>>).flatMap(([name, one]) =>
    leaves([...path, name], one),
  );
}
