import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { expect, it } from 'vitest';
import { mutants, unknownNames } from './mutants.ts';
import { outsiders } from './outsiders.ts';

const root = fileURLToPath(new URL('../../../', import.meta.url));

it('every old fault can still be put back: what it changes stands once in its file', () => {
  const lost = [...mutants, ...outsiders].flatMap(({ name, changes }) =>
    changes
      .filter(({ file, is }) => readFileSync(`${root}${file}`, 'utf8').split(is).length !== 2)
      .map(({ file }) => `${name}: ${file}`),
  );
  expect(lost).toEqual([]);
  expect(unknownNames()).toEqual([]);
});
