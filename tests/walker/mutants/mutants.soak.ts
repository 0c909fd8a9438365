import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { Copy } from '../../soak/defences/tried.ts';
import { invariants } from '../invariants.ts';
import { mutants, type WalkerMutant } from './mutants.ts';
import { outsiders } from './outsiders.ts';

/** Patients for each old fault: enough to meet it, few enough for all of them. Those of others are met as seldom as in life. */
process.env.WALKER_PATIENTS ??= '240';
process.env.WALKER_SEED ??= '1';

/** The walk of one fault at the longest, ms. */
const longestMs = 1_800_000;

const copy = new Copy(longestMs);
afterAll(() => copy.remove());

/** The walker in a copy with the fault in it; the copy is as before afterwards. */
async function walkedWith({ changes, breaks }: WalkerMutant): Promise<readonly string[]> {
  const sound = changes.map(({ file }) => [file, readFileSync(join(copy.folder, file), 'utf8')] as const);
  for (const { file, is, becomes } of changes) {
    const path = join(copy.folder, file);
    writeFileSync(
      path,
      readFileSync(path, 'utf8').replace(is, () => becomes),
    );
  }
  try {
    const proofs = breaks.map((name) => `tests/walker/walker.test.ts › ${name}`);
    const { red, broken } = await copy.run(proofs);
    return broken.length > 0 ? [] : red;
  } finally {
    for (const [file, text] of sound) writeFileSync(join(copy.folder, file), text);
  }
}

describe('with an old fault put back, the walker', () => {
  it('is green without one', { timeout: 3_600_000 }, async () => {
    const all = [...new Set(mutants.flatMap(({ breaks }) => breaks))].map(
      (name) => `tests/walker/walker.test.ts › ${name}`,
    );
    const { red, broken } = all.length === 0 ? { red: [], broken: [] } : await copy.run(all);
    expect({ red, broken }).toEqual({ red: [], broken: [] });
  });

  it.each(mutants.map((one) => [one.name, one] as const))(
    'sees it: %s',
    { timeout: 3_600_000 },
    async (_name, mutant) => {
      expect((await walkedWith(mutant)).length).toBeGreaterThan(0);
    },
  );
});

describe('of faults written by somebody who had not read it, the walker', () => {
  it('sees nine of ten, by whichever invariant', { timeout: 14_400_000 }, async () => {
    process.env.WALKER_PATIENTS = '2400';
    process.env.WALKER_STOPS = 'at-first';
    const [first, ...others] = invariants.map(({ name }) => name);
    const unseen: string[] = [];
    for (const { name, changes, way } of outsiders) {
      // What one way alone can meet is looked for in its patients: a longer walk has as many of them.
      process.env.WALKER_WAY = way ?? '';
      const red = await walkedWith({ name, changes, breaks: [first!, ...others] });
      if (red.length === 0) unseen.push(name);
    }
    expect(unseen.slice(Math.floor(outsiders.length / 10)), unseen.join('; ')).toEqual([]);
  });
});
