import { describe, expect, it } from 'vitest';
import type { Findings } from '../../src/clinical/findings.ts';
import { needleStops } from '../../src/clinical/needle-stops.ts';
import type { Proposed } from '../../src/clinical/proposed.ts';
import { adult, look } from '../published/look.ts';

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
