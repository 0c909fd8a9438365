import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { oneOutcome, readPolicy, sizesToTry } from '../../src/clinical/completions.ts';
import type { Nodule } from '../../src/clinical/findings.ts';
import { knownNodule } from '../../src/clinical/known.ts';
import { acr2017 } from '../../src/clinical/policies/acr-2017.ts';
import { type Outcome, outcomes, policyIds } from '../../src/clinical/policies/policy.ts';
import { settlingFields } from '../../src/clinical/settling.ts';
import { look } from '../published/look.ts';
import { runs } from '../support/runs.ts';
import { fewerAnswers, fullNodule, seed, whichToKeep } from './arbitrary-findings.ts';

const read = (id: (typeof policyIds)[number], nodule: Nodule) => readPolicy(id, knownNodule(nodule, 0));
const rank = (outcome: Outcome) => outcomes.indexOf(outcome);
const thinned = (nodule: Nodule, keep: readonly number[]): Nodule =>
  fewerAnswers({ nodules: [nodule] }, keep).nodules?.[0] ?? {};

describe('a policy over what is unknown', () => {
  it.each<[Outcome[], Outcome]>([
    [['sample'], 'sample'],
    [['undetermined'], 'undetermined'],
    [['no-sampling', 'follow-up'], 'follow-up'],
    [['optional', 'sample'], 'optional'],
    [['follow-up', 'sample'], 'undetermined'],
    [['no-sampling', 'sample'], 'undetermined'],
    [['follow-up', 'optional'], 'undetermined'],
    [['no-sampling', 'follow-up', 'sample'], 'undetermined'],
    [['follow-up', 'undetermined'], 'undetermined'],
  ])('%j comes to %s', (open, word) => {
    expect(oneOutcome(open)).toBe(word);
  });

  it('tries both ends of a range, every threshold and something between each two', () => {
    expect(sizesToTry('eu-2017', { least: 12, most: 16 })).toEqual([12, 13.5, 15, 15.5, 16]);
    expect(sizesToTry('eu-2017', { least: 12, most: 12 })).toEqual([12]);
  });

  it('reads what is seen beside "unknown" and leaves the rest of the foci open', () => {
    const nodule = { ...look('solid iso wide smooth', 12), foci: ['rim-calcification' as const, 'unknown' as const] };
    expect(read('acr-2017', nodule).points).toEqual([5, 9]);
    expect(read('ata-2015', nodule).levels).toEqual(['low', 'unclassified']);
  });

  it('completes a margin by extension only where the capsule is unknown too', () => {
    const solid = look('solid iso wide no-foci', 12);
    expect(read('acr-2017', solid).points).toEqual([3, 6]);
    expect(read('acr-2017', { ...solid, capsule: 'intact' }).points).toEqual([3, 5]);
    expect(read('acr-2017', { ...solid, margin: 'smooth' }).points).toEqual([3, 3]);
  });

  it('tries neither cyst nor sponge beside a feature that they do not have', () => {
    expect(read('acr-2017', look('iso wide smooth tiny', 12)).points).toEqual([5, 6]);
    expect(read('acr-2017', look('iso wide smooth coarse', 12)).points).toEqual([0, 4]);
  });

  it('never loses the outcome of the truth when answers are taken away', () => {
    fc.assert(
      fc.property(fullNodule, whichToKeep, (nodule, keep) => {
        const fewer = thinned(nodule, keep);
        // A known contradiction is read as told; taking the inside away from it is not a completion of it.
        fc.pre(fewer.composition !== undefined || nodule.composition === 'mixed' || nodule.composition === 'solid');
        // Known: a margin without its capsule is read as not breaking out.
        fc.pre(fewer.capsule !== undefined || nodule.capsule === 'intact' || fewer.margin === undefined);
        for (const id of policyIds) {
          const open = read(id, fewer);
          if (id === 'common-practice' && fewer.solidPartMm === undefined && open.decisions.includes('undetermined'))
            continue;
          expect(open.decisions).toContain(read(id, nodule).decision);
          for (const level of read(id, nodule).levels ?? []) expect(open.levels).toContain(level);
        }
      }),
      { seed, numRuns: runs(400, 8_000) },
    );
  });

  it('names exactly the fields that could still change the outcome', () => {
    fc.assert(
      fc.property(fullNodule, whichToKeep, fc.constantFrom(...policyIds), (nodule, keep, id) => {
        const fewer = thinned(nodule, keep);
        const missing = settlingFields(id, knownNodule(fewer, 0));
        const before = read(id, fewer);
        if (before.decisions.length === 1 && before.decision !== 'undetermined') expect(missing).toEqual([]);
        for (const field of Object.keys(nodule) as (keyof Nodule)[]) {
          if (field === 'id' || fewer[field] !== undefined || missing.some((one) => one === field)) continue;
          if (field === 'capsule' && nodule.capsule === 'invaded' && fewer.margin !== undefined) continue;
          // Cyst or sponge beside a suspicious feature is a contradiction, not a completion.
          const isContradiction = hasSuspicion({ ...fewer, [field]: nodule[field] });
          if (fewer.composition === undefined && isContradiction) continue;
          expect(read(id, { ...fewer, [field]: nodule[field] }).decisions, field).toEqual(before.decisions);
        }
      }),
      { seed, numRuns: runs(400, 8_000) },
    );
  });
});

const hasSuspicion = ({ shape, capsule, margin, foci }: Nodule): boolean =>
  shape === 'taller-than-wide' ||
  capsule === 'invaded' ||
  ['lobulated', 'irregular', 'spiculated'].includes(margin ?? '') ||
  (foci ?? []).some((focus) => focus === 'punctate' || focus === 'rim-extrusion');

describe('the published tables have no step down', () => {
  it('the ACR outcome never falls when points rise', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 16 }), fc.double({ min: 0.1, max: 200, noNaN: true }), (points, mm) => {
        const at = (total: number) => rank(acr2017.outcome(total, { mm, solidPartMm: null }));
        expect(at(points + 1)).toBeGreaterThanOrEqual(at(points));
      }),
      { seed },
    );
  });

  it.each(policyIds)('a larger nodule never comes to less under %s', (id) => {
    fc.assert(
      fc.property(fullNodule, fc.double({ min: 0, max: 50, noNaN: true }), (nodule, more) => {
        const larger = { ...nodule, mm: [(nodule.mm?.[0] ?? 1) + more] };
        expect(rank(read(id, larger).decision)).toBeGreaterThanOrEqual(rank(read(id, nodule).decision));
      }),
      { seed, numRuns: runs(250, 5_000) },
    );
  });

  const suspicious: [string, (nodule: Nodule) => Nodule][] = [
    ['a taller shape', (nodule) => ({ ...nodule, shape: 'taller-than-wide' })],
    ['an invaded capsule', (nodule) => ({ ...nodule, capsule: 'invaded' })],
    ['an irregular edge', (nodule) => ({ ...nodule, margin: 'irregular' })],
    ['tiny bright dots', (nodule) => ({ ...nodule, foci: [...(nodule.foci ?? []), 'punctate'] })],
    ['tissue pushing out of the rim', (nodule) => ({ ...nodule, foci: [...(nodule.foci ?? []), 'rim-extrusion'] })],
    ['very dark echoes', (nodule) => ({ ...nodule, echogenicity: 'very-hypoechoic' })],
  ];
  it.each(suspicious)('%s never lowers what a policy advises', (_, worsen) => {
    fc.assert(
      fc.property(fullNodule, fc.constantFrom(...policyIds), (nodule, id) => {
        expect(rank(read(id, worsen(nodule)).decision)).toBeGreaterThanOrEqual(rank(read(id, nodule).decision));
      }),
      { seed, numRuns: runs(500, 10_000) },
    );
  });
});
