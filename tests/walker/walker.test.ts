import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { runs } from '../support/runs.ts';
import { shipped } from '../support/shipped.ts';
import { Coverage } from './coverage.ts';
import { Figures, kinds, leastOf3000, leastResultsOf3000 } from './figures.ts';
import { invariants } from './invariants.ts';
import { neverTaken } from './never-taken.ts';
import { categories } from './truth.ts';
import { batchSize, walkBatch } from './walk.ts';
import { seedsFrom, ways } from './ways.ts';

/** Every run walks other patients; `WALKER_SEED` walks the same again, `WALKER_PATIENTS` as many as wanted. */
const seed = Number(process.env.WALKER_SEED ?? Math.floor(Date.now() / 1000));
const patients = Number(process.env.WALKER_PATIENTS ?? runs(300, 20_000));
/** Figures and shares are demanded of runs that are long enough for them. */
const isLong = patients >= 3000;
const isShort = patients < 300;
/** Who looks for one fault alone needs no second one. */
const stopsAtFirst = process.env.WALKER_STOPS === 'at-first';
/** Batches of one way alone, for what only its patients can meet. */
const way = ways.find((one) => one === process.env.WALKER_WAY) ?? null;

describe(`patients whom nobody scripted (seed ${seed})`, () => {
  const coverage = new Coverage(shipped.flows);
  const figures = new Figures();
  const breaches = new Map<string, string[]>();
  const faults: string[] = [];

  beforeAll(
    async () => {
      let left = patients;
      for (const batch of seedsFrom(seed, way)) {
        if (left <= 0 || (stopsAtFirst && breaches.size > 0)) break;
        const walk = await walkBatch(shipped, coverage, batch, Math.min(left, batchSize));
        left -= batchSize;
        faults.push(...walk.faults);
        // Whoever walks for an hour hears of a fault when it is found.
        if (isLong && walk.faults.length > 0) console.info(walk.faults.join('\n'));
        for (const walked of walk.walked) {
          figures.add(walked);
          for (const { name, broken } of invariants) {
            const lines = broken(walked).map((line) => `WALKER_SEED=${walked.seed} case ${walked.number}: ${line}`);
            if (lines.length === 0) continue;
            breaches.set(name, [...(breaches.get(name) ?? []), ...lines]);
            if (isLong) console.info(lines.join('\n'));
          }
        }
      }
    },
    // Two seconds a patient: seven times what one takes on an idle machine.
    Math.max(600_000, patients * 2000),
  );

  afterAll(() => {
    const { states, transitions, doctors, choices, stateShare, transitionShare } = coverage.unvisited();
    const share = (of: number): string => `${(100 * of).toFixed(1)} %`;
    console.info(
      `WALKER_SEED=${seed}\n${figures}\nstates visited ${share(stateShare)}, transitions ${share(transitionShare)}`,
    );
    if (isLong) console.info([...states, ...transitions, ...doctors, ...choices].join('\n'));
  });

  it('are walked without a text that the line cannot handle', () => {
    expect(faults).toEqual([]);
  });

  it.each(invariants.map(({ name }) => name))('%s', (name) => {
    expect(breaches.get(name) ?? []).toEqual([]);
  });

  it('are of every kind, and not all die early', () => {
    if (isShort) return;
    const least = (of3000: number): number => Math.floor((isLong ? 1 : 0.4) * of3000 * (patients / 3000));
    const rare = Object.entries(leastOf3000).filter(([kind, of3000]) => figures.of(kind) < least(of3000));
    expect(rare.map(([kind]) => `${kind}: ${figures.of(kind)}`)).toEqual([]);
    expect(Object.keys(leastOf3000).filter((kind) => !(kind in kinds))).toEqual([]);
    const few = categories.filter((one) => (figures.results.get(one) ?? 0) < least(leastResultsOf3000));
    expect(few).toEqual([]);
    expect(figures.of('child with a needle')).toBe(0);
  });

  it('visit many states, and in a long run every one and nearly every way between them', () => {
    const { states, stateShare, transitionShare } = coverage.unvisited();
    expect(stateShare).toBeGreaterThan(isShort ? 0 : 0.5);
    if (!isLong) return;
    expect(states).toEqual([]);
    expect(transitionShare).toBeGreaterThanOrEqual(0.95);
  });

  it('take every exit, and every choice that doctors have, in a long run', () => {
    if (!isLong) return;
    const { exits, doctors } = coverage.unvisited();
    expect({ exits: exits.filter((one) => !(one in neverTaken)), doctors }).toEqual({ exits: [], doctors: [] });
  });

  it('what nobody can take is a transition still', () => {
    expect(Object.keys(neverTaken).filter((name) => !coverage.transitions().includes(name))).toEqual([]);
  });
});
