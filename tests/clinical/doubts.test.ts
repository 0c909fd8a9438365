import { describe, expect, it } from 'vitest';
import type { Findings, Nodule } from '../../src/clinical/findings.ts';
import { assess } from '../../src/clinical/indication.ts';
import { openQuestions } from '../../src/clinical/open-questions.ts';
import { type PolicyId, policyIds } from '../../src/clinical/policies/policy.ts';
import { adult, look } from '../published/look.ts';

const black = (row: string, mm: number): Nodule => ({ ...look(row, mm), echogenicity: 'anechoic' });

describe('features that cannot be true together', () => {
  const contradictory: [string, Nodule][] = [
    [
      'a sponge that is tall, jagged, full of tiny dots and breaks out',
      { ...look('sponge hypo tall jagged tiny breaks', 30) },
    ],
    ['a cyst with tiny dots', look('cyst tiny', 22)],
    ['a cyst that is taller than wide', look('cyst tall', 15)],
    ['a black lump that is said to be solid', black('solid wide smooth no-foci', 60)],
    ['a black lump that is part solid', { ...black('mixed wide smooth no-foci', 30), solidPartMm: 20 }],
    ['a solid part larger than its lump', { ...look('mixed iso wide smooth no-foci', 12), solidPartMm: 20 }],
  ];
  it.each(contradictory)('%s: no policy settles it', (_, nodule) => {
    for (const policy of policyIds) {
      const told = assess(adult(nodule), { policy });
      expect(told.decision, policy).toBe('ask-doctor');
      expect(told.because).toContain('contradictory-features');
      expect(told.cautions).toContain('contradictory-features');
      expect(told.missing.some((field) => ['composition', 'solidPartMm'].includes(field))).toBe(true);
    }
  });

  it('the tables are left to say what they say', () => {
    const { policies } = assess(adult(look('sponge hypo tall jagged tiny', 30))).nodules[0] ?? {};
    expect(policies?.['acr-2017']).toMatchObject({ decision: 'no-sampling', levels: ['TR1'] });
  });

  it('do not hold back the lump beside it that is plainly to be sampled', () => {
    const nodules = [
      { ...look('cyst tiny', 22), id: 'odd' },
      { ...look('solid hypo wide smooth no-foci', 18), id: 'plain' },
    ];
    expect(assess(adult({}, { nodules }))).toMatchObject({
      decision: 'sample',
      proposed: [{ nodule: 'plain' }],
      missing: ['composition'],
    });
  });

  it('are no settled watching either', () => {
    const nodules = [
      { ...look('cyst tiny', 22), id: 'odd' },
      { ...look('solid hypo wide smooth no-foci', 7), id: 'small' },
    ];
    expect(assess(adult({}, { nodules })).decision).toBe('ask-doctor');
  });
});

describe('a black inside', () => {
  it('of which nobody knows whether it is fluid settles nothing, though the tables count it as little as a cyst', () => {
    const unknown = black('wide smooth no-foci', 60);
    const told = assess(adult(unknown), { policy: 'acr-2017' });
    expect(told.nodules[0]?.policies['acr-2017'].decision).toBe('no-sampling');
    expect(told).toMatchObject({ decision: 'ask-doctor', missing: ['composition'] });
    expect(told.because).toContain('composition-unknown');
  });

  it('of a cyst is what a cyst is', () => {
    expect(assess(adult(black('cyst wide smooth no-foci', 18))).decision).toBe('no-sampling');
  });
});

describe('exactly 10 mm, where the systems part', () => {
  const dark = look('solid hypo wide smooth no-foci', 10);
  const of = (nodule: Nodule, policy: PolicyId = 'common-practice', more: Findings = {}) =>
    assess(adult(nodule, more), { policy });

  it('the doctor is asked where another system samples and the governing one does not', () => {
    const told = of(look('solid vhypo tall jagged tiny', 10));
    expect(told.decision).toBe('ask-doctor');
    expect(told.because).toContain('exactly-10-mm');
    expect(told.missing).toContain('mm');
    expect(of(dark).decision).toBe('ask-doctor');
    expect(of(look('solid vhypo tall jagged tiny', 10), 'eu-2017').decision).toBe('ask-doctor');
  });

  it('a governing system that samples does so, with the measure to be taken again', () => {
    const told = of(dark, 'ata-2015');
    expect(told).toMatchObject({ decision: 'sample', missing: ['mm'] });
    expect(told.cautions).toContain('exactly-10-mm');
  });

  it('where no system samples, nothing is asked', () => {
    expect(of(look('solid iso wide smooth no-foci', 10)).decision).toBe('follow-up');
    expect(of({ ...dark, mm: [9.9] }).decision).toBe('follow-up');
  });

  it('a bleeding history is asked before the doctor is', () => {
    expect(of(dark, 'common-practice', { bleeding: ['unknown'] }).missing).toContain('bleeding');
    const asked = openQuestions(adult(dark, { bleeding: undefined }), { governing: 'common-practice' });
    expect(asked).toContainEqual({ item: null, field: 'bleeding' });
  });
});

describe('growth out of the capsule', () => {
  it.each<[number, PolicyId]>([
    [8, 'common-practice'],
    [8, 'acr-2017'],
    [4, 'eu-2017'],
    [9.9, 'ata-2015'],
  ])('at %d mm under %s is the doctor’s', (mm, policy) => {
    const told = assess(adult(look('solid hypo wide breaks no-foci', mm)), { policy });
    expect(told.decision).toBe('ask-doctor');
    expect(told.because).toContain('capsule-invaded');
  });

  it('is sampled where the size is reached', () => {
    expect(assess(adult(look('solid hypo wide breaks no-foci', 11))).decision).toBe('sample');
  });
});

it('a higher risk is no reason to needle a pure cyst', () => {
  const cyst = adult(look('cyst', 30), { risks: ['neck-irradiation'] });
  expect(assess(cyst).cautions).not.toContain('higher-risk-smaller-size-allowed');
});
