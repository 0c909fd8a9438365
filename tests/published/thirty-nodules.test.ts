import { describe, expect, it } from 'vitest';
import type { Findings } from '../../src/clinical/findings.ts';
import { assess } from '../../src/clinical/indication.ts';
import { policyIds } from '../../src/clinical/policies/policy.ts';
import { adult, look } from './look.ts';

/*
 * Thirty nodules under the four policies. Expected: common practice, ACR (Tessler 2017), EU (Russ 2017), ATA (Haugen
 * 2016), worked out by hand from the tables named in the four policy files; then points, category and pattern.
 */
const N = 'no-sampling';
const F = 'follow-up';
const O = 'optional';
const S = 'sample';
const C = 'undetermined';
const rows: [string, number, string, string, string, string, number, string | null, string][] = [
  ['cyst', 40, N, N, N, N, 0, '2', 'benign'],
  ['sponge iso wide smooth no-foci', 25, N, N, N, O, 0, '2', 'very-low'],
  ['mostly-sponge iso wide smooth no-foci', 25, N, N, S, O, 0, '3', 'very-low'],
  ['mixed centred iso wide smooth no-foci', 30, C, N, S, O, 2, '3', 'very-low'],
  ['mixed eccentric iso wide smooth no-foci', 18, C, N, F, S, 2, '3', 'low'],
  ['mixed eccentric hypo wide smooth tiny', 12, C, F, S, S, 6, '5', 'high'],
  ['solid iso wide smooth no-foci', 8, F, N, F, F, 3, '3', 'low'],
  ['solid iso wide smooth no-foci', 11, S, N, F, F, 3, '3', 'low'],
  ['solid iso wide smooth no-foci', 15, S, F, F, S, 3, '3', 'low'],
  ['solid iso wide smooth no-foci', 20, S, F, F, S, 3, '3', 'low'],
  ['solid iso wide smooth no-foci', 24, S, F, S, S, 3, '3', 'low'],
  ['solid iso wide smooth no-foci', 25, S, S, S, S, 3, '3', 'low'],
  ['solid hypo wide smooth no-foci', 10, F, F, F, S, 4, '4', 'intermediate'],
  ['solid hypo wide smooth no-foci', 12, S, F, F, S, 4, '4', 'intermediate'],
  ['solid hypo wide smooth no-foci', 15, S, S, F, S, 4, '4', 'intermediate'],
  ['solid hypo wide smooth no-foci', 16, S, S, S, S, 4, '4', 'intermediate'],
  ['solid vhypo wide smooth no-foci', 12, S, F, S, S, 5, '5', 'intermediate'],
  ['solid iso wide smooth tiny', 14, S, F, S, C, 6, '5', 'unclassified'],
  ['solid hypo wide lobed tiny', 9, F, F, F, F, 9, '5', 'high'],
  ['solid hypo wide lobed tiny', 11, S, S, S, S, 9, '5', 'high'],
  ['solid hypo wide smooth tiny', 10, F, S, F, S, 7, '5', 'high'],
  ['solid iso tall smooth no-foci', 12, S, F, S, C, 6, '5', 'unclassified'],
  ['solid hypo wide breaks no-foci', 11, S, S, S, S, 7, '5', 'high'],
  // Hidden by a calcified shell: seen as bright and smooth where it shows at all.
  ['hidden iso wide smooth rim', 18, C, S, C, C, 5, null, 'unclassified'],
  ['solid iso wide smooth coarse', 16, S, S, F, S, 4, '3', 'low'],
  ['solid hypo tall lobed tiny', 4, F, N, F, F, 12, '5', 'high'],
  ['mixed centred hypo wide smooth no-foci', 22, C, F, S, O, 3, '4', 'very-low'],
];

describe('thirty nodules under four policies', () => {
  it.each(rows)('%s, %d mm: %s / %s / %s / %s', (row, mm, plain, acr, eu, ata, points, category, pattern) => {
    const { policies } = assess(adult(look(row, mm))).nodules[0] ?? { policies: undefined };
    expect(policyIds.map((id) => policies?.[id].decision)).toEqual([plain, acr, eu, ata]);
    expect(policies?.['acr-2017'].points).toEqual([points, points]);
    expect(policies?.['eu-2017'].levels).toEqual(category === null ? [] : [category]);
    expect(policies?.['ata-2015'].levels).toEqual([pattern]);
  });

  it('a lump of 20 mm that is felt but was not scanned is undetermined everywhere, and is scanned first', () => {
    const assessed = assess(adult({ id: 'n1', mm: [20] }, { ultrasound: { done: false } }));
    expect(policyIds.map((id) => assessed.nodules[0]?.policies[id].decision)).toEqual([C, C, C, C]);
    expect(assessed.decision).toBe('examine-first');
  });

  it('a hot nodule keeps its scores in print and is referred, not sampled', () => {
    const hot: Findings = { tsh: 'low', scan: 'hot' };
    const assessed = assess(adult(look('solid iso wide smooth no-foci', 30), hot));
    expect(policyIds.map((id) => assessed.nodules[0]?.policies[id].decision)).toEqual([S, S, S, S]);
    expect(assessed).toMatchObject({ decision: 'refer-first', because: ['hot-nodule'] });
  });

  it.each(policyIds)('a deep nodule of 30 mm without guidance is sampled elsewhere under %s', (policy) => {
    const deep = adult(look('solid iso wide smooth no-foci', 30), { palpable: false, guidance: false });
    expect(assess(deep, { policy })).toMatchObject({ decision: 'sample-elsewhere', guidance: 'required' });
  });
});
