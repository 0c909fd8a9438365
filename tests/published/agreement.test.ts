import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readPolicy } from '../../src/clinical/completions.ts';
import { findingsChoices } from '../../src/clinical/findings.ts';
import { knownNodule } from '../../src/clinical/known.ts';
import { policyIds } from '../../src/clinical/policies/policy.ts';
import { runs } from '../support/runs.ts';
import { secondReading } from './second-reading.ts';

const seed = 20170617;
const perhaps = <T>(arbitrary: fc.Arbitrary<T>) => fc.option(arbitrary, { nil: undefined, freq: 4 });
const tenths = (least: number, most: number) => fc.integer({ min: least * 10, max: most * 10 }).map((n) => n / 10);
const nearThresholds = fc.oneof(
  fc.constantFrom(4.9, 5, 9.9, 10, 10.1, 14.9, 15, 15.1, 19.9, 20, 20.1, 24.9, 25, 25.1),
  tenths(1, 60),
);
const told = fc.record({
  mm: nearThresholds.map((mm) => [mm]),
  composition: perhaps(fc.constantFrom(...findingsChoices.composition)),
  spongiformWhole: perhaps(fc.boolean()),
  solidPartMm: perhaps(fc.oneof(fc.constantFrom(10, 10.1, 15, 15.1), tenths(1, 40))),
  eccentric: perhaps(fc.boolean()),
  echogenicity: perhaps(fc.constantFrom(...findingsChoices.echogenicity)),
  hypoechoicPart: perhaps(fc.boolean()),
  shape: perhaps(fc.constantFrom(...findingsChoices.shape)),
  margin: perhaps(fc.constantFrom(...findingsChoices.margin)),
  capsule: perhaps(fc.constantFrom(...findingsChoices.capsule)),
  foci: perhaps(fc.subarray([...findingsChoices.foci, 'unknown' as const])),
});
const count = runs(2_000, 100_000);
const nodules = fc.sample(told, { numRuns: count, seed });

describe('two independent readings of the published tables', () => {
  it.each(policyIds)(`agree under %s on ${count} random nodules (seed ${seed})`, (policy) => {
    for (const nodule of nodules) {
      const mine = readPolicy(policy, knownNodule(nodule, 0));
      const second = secondReading(nodule);
      const readings = {
        decisions: [...mine.decisions].sort(),
        levels: [...(mine.levels ?? [])].sort(),
        points: mine.points ?? second.points,
      };
      expect(readings, JSON.stringify(nodule)).toEqual({ ...second[policy], points: second.points });
    }
  });
});
