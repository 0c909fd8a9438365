import { describe, expect, it } from 'vitest';
import type { Findings } from '../../src/clinical/findings.ts';
import { assess } from '../../src/clinical/indication.ts';
import { policyIds } from '../../src/clinical/policies/policy.ts';
import { adult, look } from './look.ts';
import { rows } from './nodule-rows.ts';

const S = 'sample';
const C = 'undetermined';

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
