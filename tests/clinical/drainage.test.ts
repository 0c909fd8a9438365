import { describe, expect, it } from 'vitest';
import { drainableCyst } from '../../src/clinical/drainage.ts';
import type { Findings } from '../../src/clinical/findings.ts';

const cyst: Findings = {
  id: 'a',
  patient: { ageYears: 43, sex: 'female' },
  dangerSigns: [],
  risks: [],
  bleeding: [],
  nodules: [
    { id: 'n1', site: 'right', mm: [20, 18, 17], composition: 'cystic' },
    { id: 'n2', site: 'left', mm: [45, 40, 38], composition: 'cystic' },
    { id: 'n3', site: 'left', mm: [60, 40, 38], composition: 'solid' },
  ],
};

describe('a cyst that may be emptied', () => {
  it('is the largest that is all fluid', () => {
    expect(drainableCyst(cyst)).toBe('n2');
    expect(drainableCyst({ ...cyst, dangerSigns: ['swallowing'] })).toBe('n2');
  });

  it.each<[string, Partial<Findings>]>([
    ['noisy breathing', { dangerSigns: ['stridor'] }],
    ['signs that nobody asked', { dangerSigns: ['unknown'] }],
    ['a blood thinner', { bleeding: ['oral-anticoagulant'] }],
    ['aspirin', { bleeding: ['antiplatelet'] }],
    ['a bleeding disorder', { bleeding: ['bleeding-disorder'] }],
    ['bleeding that is not known', { bleeding: ['unknown'] }],
    ['a lump that beats', { lump: ['pulsates'] }],
    ['a child', { patient: { ageYears: 12 } }],
    ['no cyst', { nodules: [{ id: 'n1', site: 'right', mm: [20], composition: 'mixed' }] }],
  ])('is none with %s', (_, more) => {
    expect(drainableCyst({ ...cyst, ...more })).toBeNull();
  });
});
