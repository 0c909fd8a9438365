import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Findings, findingsChoices } from '../../src/clinical/findings.ts';
import { assess } from '../../src/clinical/indication.ts';
import { needleStops } from '../../src/clinical/needle-stops.ts';
import { policyIds } from '../../src/clinical/policies/policy.ts';
import type { Proposed } from '../../src/clinical/proposed.ts';
import { adult, look } from '../published/look.ts';
import { runs } from '../support/runs.ts';
import { fewerAnswers, fullFindings, fullNodule, seed, whichToKeep } from './arbitrary-findings.ts';

const lump: Proposed = { kind: 'nodule', nodule: 'n1', site: null, mm: 18 };
const feltLump: Proposed = { kind: 'nodule', nodule: null, site: 'left', mm: null };
const node: Proposed = { kind: 'node', nodule: null, site: 'left', mm: null };
const patient = (more: Findings) => adult(look('solid hypo wide smooth no-foci', 18), more);

describe('what no answer of a doctor by text opens', () => {
  it.each<[string, Findings, readonly string[]]>([
    ['noisy breathing', { dangerSigns: ['stridor'] }, ['stridor']],
    ['a child', { patient: { ageYears: 9 } }, ['child']],
    ['a hot nodule', { tsh: 'low', scan: 'hot' }, ['hot-nodule']],
    ['a lump that pulsates', { lump: ['pulsates'] }, ['pulsates']],
    ['a bleeding disorder', { bleeding: ['bleeding-disorder'] }, ['bleeding-disorder']],
    ['platelets of 12', { platelets: 12 }, ['platelets-under-20']],
    ['an INR of 3.6', { bleeding: ['warfarin'], inr: 3.6 }, ['inr-over-3']],
    [
      'a child with haemophilia',
      { patient: { ageYears: 9 }, bleeding: ['bleeding-disorder'] },
      ['child', 'bleeding-disorder'],
    ],
  ])('%s, for a lump as for a neck node', (_, more, because) => {
    expect(needleStops(patient(more), lump)).toEqual(because);
    expect(needleStops(patient(more), node)).toEqual(because);
  });

  it('a lump that is not felt, without guidance; a neck node beside it is felt', () => {
    const deep = patient({ palpable: false, guidance: false });
    expect(needleStops(deep, lump)).toEqual(['impalpable-without-guidance']);
    expect(needleStops(deep, feltLump)).toEqual(['impalpable-without-guidance']);
    expect(needleStops(deep, node)).toEqual([]);
    expect(needleStops(patient({ palpable: false, guidance: true }), lump)).toEqual([]);
    expect(needleStops(patient({ palpable: false, guidance: 'unknown' }), lump)).toEqual([
      'impalpable-without-guidance',
    ]);
  });

  it('is that very lump, not the one beside it', () => {
    const nodules = [
      { ...look('solid hypo wide smooth no-foci', 18), id: 'n1', palpable: false },
      { ...look('solid hypo wide smooth no-foci', 25), id: 'n2', palpable: true },
    ];
    const two = adult({}, { nodules, guidance: false });
    expect(needleStops(two, lump)).toEqual(['impalpable-without-guidance']);
    expect(needleStops(two, { ...lump, nodule: 'n2' })).toEqual([]);
  });

  it('what is not known is to be asked, and is no stop', () => {
    expect(needleStops({}, lump)).toEqual([]);
    expect(needleStops(patient({ bleeding: ['warfarin'], inr: 'unknown' }), lump)).toEqual([]);
  });
});

describe('whatever the findings', () => {
  const side = fc.constantFrom('right', 'left', 'isthmus', undefined);
  const felt = fc.constantFrom(true, false, undefined);
  const nodules = fc
    .array(fc.tuple(fullNodule, side, felt), { maxLength: 4 })
    .map((all) => all.map(([nodule, site, palpable], place) => ({ ...nodule, id: `n${place}`, site, palpable })));
  const lumpSigns = fc.subarray([...findingsChoices.lump], { maxLength: 1 });
  const told = fc
    .tuple(fullFindings, nodules, lumpSigns, whichToKeep, fc.boolean())
    .map(([full, several, lumps, keep, all]) => {
      const findings: Findings = { ...full, nodules: several, lump: lumps };
      return all ? findings : fewerAnswers(findings, keep);
    });
  const needles = ['sample', 'optional'];

  it('nothing is proposed to be sampled here that a known stop forbids', () => {
    fc.assert(
      fc.property(told, fc.constantFrom(...policyIds), (findings, policy) => {
        const { decision, sampleToo, proposed } = assess(findings, { policy });
        if (!needles.includes(decision) && sampleToo !== 'yes') return;
        expect(proposed.flatMap((what) => needleStops(findings, what))).toEqual([]);
        expect(findings.examined).toBe(true);
      }),
      { seed, numRuns: runs(1_500, 40_000) },
    );
  });

  it('where a needle is named, so is what it goes into; where none is, nothing is', () => {
    fc.assert(
      fc.property(told, fc.constantFrom(...policyIds), (findings, policy) => {
        const { decision, sampleToo, proposed } = assess(findings, { policy });
        if (needles.includes(decision) || decision === 'sample-elsewhere' || sampleToo === 'yes') {
          expect(proposed.length).toBeGreaterThan(0);
        } else if (decision !== 'ask-doctor' && sampleToo !== 'ask-doctor') expect(proposed).toEqual([]);
        expect(proposed.length).toBeLessThanOrEqual(3);
        expect(new Set(proposed.map((one) => `${one.kind} ${one.nodule}`)).size).toBe(proposed.length);
        expect(proposed.some(({ kind }) => kind === 'node')).toBe(
          findings.dangerSigns?.includes('neck-nodes') === true && proposed.length > 0,
        );
      }),
      { seed, numRuns: runs(1_500, 40_000) },
    );
  });
});
