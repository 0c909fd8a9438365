import { afterAll, describe, expect, it } from 'vitest';
import { isMutant } from './defences/defence.ts';
import { hazardDefences } from './defences/hazards.ts';
import { threatDefences } from './defences/threats.ts';
import { Copy, sideBySide } from './defences/tried.ts';

/*
 * Each row of deploy/threats.md and deploy/hazards.md names the tests that prove its control. Here the control is taken
 * away, in a copy, and those tests have to turn red: a proof that stays green proves nothing.
 */
const mutants = [...threatDefences, ...hazardDefences].filter(isMutant);
const named = mutants.map(
  (one) => [`${one.row} ${one.file}: ${one.is.trim().replace(/\s+/g, ' ').slice(0, 60)}`, one] as const,
);

const startedAt = performance.now();
const copies: Copy[] = [];
const free: Copy[] = [];
const waiting: ((copy: Copy) => void)[] = [];

/** Does something in a copy of its own; at most as many at once as there are copies. */
async function inCopy<T>(act: (copy: Copy) => Promise<T>): Promise<T> {
  if (free.length === 0 && copies.length < sideBySide) {
    const made = new Copy();
    copies.push(made);
    free.push(made);
  }
  const copy = free.pop() ?? (await new Promise<Copy>((resolve) => waiting.push(resolve)));
  try {
    return await act(copy);
  } finally {
    const next = waiting.shift();
    if (next) next(copy);
    else free.push(copy);
  }
}

afterAll(() => {
  for (const copy of copies) copy.remove();
  console.log(`${mutants.length} defences taken away in ${Math.round((performance.now() - startedAt) / 1000)} s`);
});

describe('with a defence taken away', () => {
  it('the proofs are green while every defence stands', { timeout: 3_600_000 }, async () => {
    const all = [...new Set(mutants.flatMap(({ red }) => red))];
    const { red, broken } = await inCopy((copy) => copy.run(all));
    expect({ red, broken }).toEqual({ red: [], broken: [] });
  });

  it.concurrent.each(named)('%s: its proofs turn red', { timeout: 3_600_000 }, async (_name, mutant) => {
    const { green, broken } = await inCopy((copy) => copy.try(mutant));
    expect({ green, broken }).toEqual({ green: [], broken: [] });
  });
});
