/** Reads `locales/<tag>/bench.json`: the words of the bench's page. They are no messages, so no segment bounds them. */
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { z } from 'zod';
import { compileTemplate } from '../text/render.ts';
import type { WordTable } from '../text/say-word.ts';
import { readJson } from './json-source.ts';
import type { Problem } from './problem.ts';
import { schemaProblems } from './schema-problems.ts';
import { baseLocale } from './texts.ts';
import type { Path } from './yaml-source.ts';

/** The words of one language by key. */
export interface BenchWords {
  readonly file: string;
  readonly words: Readonly<Record<string, string>>;
  lineOf(path: Path): number;
}

/** The part of the page whose words these are comes first in a key. */
const schema = z.record(
  z.string().regex(/^(page|strip|picture|scenario)(-[a-z0-9]+)+$/u, 'page-, strip-, picture- or scenario- and words'),
  z.string().min(1, 'should not be empty'),
);

/** What a language says on the page, English where it says nothing. `root`: the package. Empty where there are none. */
export function benchWordsOf(root: string, tag: string): Readonly<Record<string, string>> {
  const ignored: Problem[] = [];
  return { ...read(root, baseLocale, ignored)?.words, ...read(root, tag, ignored)?.words };
}

/** The placeholders of every word of a language: what `npm run names` writes to `src/generated`. */
export function benchTable(words: Readonly<Record<string, string>>): WordTable {
  const keys = Object.keys(words).sort();
  return Object.fromEntries(keys.map((key) => [key, compileTemplate(words[key]!).placeholders]));
}

/**
 * Faults of all languages: no JSON or another shape, a word that English lacks, one that nobody says, placeholders that
 * the program does not fill. `built`: the words that the program was built with.
 */
export function benchWordProblems(root: string, built: WordTable): readonly Problem[] {
  const tags = readdirSync(join(root, 'locales'), { withFileTypes: true }).filter((one) => one.isDirectory());
  return tags.flatMap(({ name: tag }) => {
    const problems: Problem[] = [];
    const own = read(root, tag, problems);
    if (own) return [...problems, ...wordFaults(own, built), ...(tag === baseLocale ? missing(own, built) : [])];
    const file = `locales/${tag}/bench.json`;
    const none = { file, line: 1, path: '-', what: 'the file is missing', todo: 'add it' };
    return tag === baseLocale && problems.length === 0 ? [none] : problems;
  });
}

function read(root: string, tag: string, problems: Problem[]): BenchWords | null {
  const file = `locales/${tag}/bench.json`;
  if (!existsSync(join(root, file))) return null;
  const source = readJson(file, readFileSync(join(root, file), 'utf8'));
  problems.push(...source.problems);
  if (source.data === undefined) return null;
  const parsed = schema.safeParse(source.data, { reportInput: true });
  if (parsed.success) return { file, words: parsed.data, lineOf: source.lineOf };
  problems.push(...schemaProblems(source, parsed.error, []));
  return null;
}

function wordFaults({ file, words, lineOf }: BenchWords, built: WordTable): readonly Problem[] {
  return Object.entries(words).flatMap(([key, text]) => {
    const problem = (what: string, todo: string): Problem => ({ file, line: lineOf([key]), path: key, what, todo });
    const wanted = built[key];
    if (wanted === undefined) return [problem('nobody says this word', 'take it out, or run npm run names')];
    const { placeholders, braces } = compileTemplate(text);
    if (braces === 'faulty') return [problem('a brace stands alone', 'write {name}')];
    return [
      ...placeholders
        .filter((name) => !wanted.includes(name))
        .map((name) => problem(`there is no value ${name}`, 'use the values of English')),
      ...wanted.filter((name) => !placeholders.includes(name)).map((name) => problem(`{${name}} is missing`, 'say it')),
    ];
  });
}

function missing({ file, words }: BenchWords, built: WordTable): readonly Problem[] {
  const lacking = Object.keys(built).filter((key) => words[key] === undefined);
  return lacking.map((key) => ({
    file,
    line: 1,
    path: key,
    what: 'the word is missing',
    todo: 'put it back: the page says it',
  }));
}
