import { readdirSync, readFileSync } from 'node:fs';
import { expect, it } from 'vitest';

const root = new URL('../src/', import.meta.url);

/** Casts past the compiler, by file, and why each hides no missing piece. */
const allowed: Readonly<Record<string, readonly [count: number, why: string]>> = {
  'case/stored.ts': [2, 'what the line itself wrote as JSON'],
  'channels/telegram/api.ts': [1, "the library's own type of fetch is an older one than Node's"],
  'cli/open-line.ts': [1, 'each place of the list holds what the check of that place returned'],
  'setup/question.ts': [1, 'what was typed goes to the schema as it is: the schema says whether it is a number'],
  'store/dialects/postgres.ts': [2, 'the driver is optional and its types are not installed with it'],
  'store/migrations/migrate.ts': [1, "a table of the query builder's own, not of the schema"],
  'store/roster.ts': [2, 'one separator-joined text that the same file writes'],
  'store/statement.ts': [1, 'a slot stands for a value of any type until the statement runs'],
};

it('no cast past the compiler stands in the source without a reason that is named here', () => {
  const found = readdirSync(root, { recursive: true, encoding: 'utf8' })
    .filter((path) => path.endsWith('.ts'))
    .map((path): [string, number] => {
      const source = readFileSync(new URL(path, root), 'utf8');
      return [path, (source.match(/\bas unknown as\b|\bas never\b(?=\s*[;,)}\]])/g) ?? []).length];
    })
    .filter(([, count]) => count > 0);
  expect(Object.fromEntries(found)).toEqual(
    Object.fromEntries(Object.entries(allowed).map(([path, [count]]) => [path, count])),
  );
});
