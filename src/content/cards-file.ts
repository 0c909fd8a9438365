/** Reads `locales/<tag>/cards.json`: the texts of the printed cards. They are no messages, so no segment bounds them. */
import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { z } from 'zod';
import { saidNumbers } from '../clinical/said-numbers.ts';
import type { Voice } from '../conversation/texts.ts';
import { compileTemplate, renderTemplate } from '../text/render.ts';
import { readJson } from './json-source.ts';
import type { Problem } from './problem.ts';
import { schemaProblems } from './schema-problems.ts';
import type { Path } from './yaml-source.ts';

/** The texts of one language by key; `key_brief` is the brief voice of `key`. */
export interface CardTexts {
  readonly file: string;
  readonly texts: ReadonlyMap<string, string>;
  lineOf(path: Path): number;
}

const schema = z.record(
  z.string().regex(/^[a-z0-9]+(-[a-z0-9]+)*(_brief)?$/u, 'small letters, digits and dashes'),
  z.string().min(1, 'should not be empty'),
);

/** The card texts of a language under `root`; null where it has none or they cannot be read. */
export function readCards(root: string, tag: string, problems: Problem[]): CardTexts | null {
  const file = `locales/${tag}/cards.json`;
  if (!existsSync(join(root, file))) return null;
  const source = readJson(file, readFileSync(join(root, file), 'utf8'));
  problems.push(...source.problems);
  if (source.data === undefined) return null;
  const parsed = schema.safeParse(source.data, { reportInput: true });
  if (!parsed.success) {
    problems.push(...schemaProblems(source, parsed.error, []));
    return null;
  }
  return { file, texts: new Map(Object.entries(parsed.data)), lineOf: source.lineOf };
}

/** Says card texts, and remembers what was asked for. */
export interface Sayer {
  say(key: string, values?: Readonly<Record<string, string>>): string;
  /** Keys that were said, with `_brief` where that was it. */
  readonly said: ReadonlySet<string>;
  /** Keys that this language lacks: English was said. */
  readonly lacking: ReadonlySet<string>;
  /** By key the value that its text names and is not given. */
  readonly unknownValues: ReadonlyMap<string, string>;
}

/** `own` is said; what it lacks is said in English. A key that neither has stands as itself and is `lacking`. */
export function sayerOf(own: CardTexts, english: CardTexts, voice: Voice): Sayer {
  const [said, lacking] = [new Set<string>(), new Set<string>()];
  const unknownValues = new Map<string, string>();
  return {
    said,
    lacking,
    unknownValues,
    say: (key, values = {}) => {
      const wanted = voice === 'brief' ? [`${key}_brief`, key] : [key];
      const found = wanted.find((one) => own.texts.has(one));
      if (found === undefined) lacking.add(key);
      else said.add(found);
      const text = own.texts.get(found ?? key) ?? english.texts.get(key) ?? key;
      return renderTemplate(compileTemplate(text), (name) => {
        const value = values[name] ?? saidNumbers[name];
        if (value === undefined) unknownValues.set(found ?? key, name);
        return value ?? '';
      });
    },
  };
}
