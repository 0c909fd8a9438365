import { describe, expect, it } from 'vitest';
import type { Findings } from '../../src/clinical/findings.ts';
import { assess } from '../../src/clinical/indication.ts';
import { openQuestions } from '../../src/clinical/open-questions.ts';
import { adult, look } from '../published/look.ts';

/*
 * Scottish Dental Clinical Effectiveness Programme, Management of Dental Patients Taking Anticoagulants or Antiplatelet
 * Drugs, 2022: an INR of at most 24 h, or 72 h where it is stable. Taken over for the thyroid needle: our convention.
 */
const onWarfarin = (more: Findings): Findings =>
  adult(look('solid hypo wide smooth no-foci', 18), { bleeding: ['warfarin'], inr: 2.4, ...more });

describe('an INR on warfarin', () => {
  it.each<[number, boolean | 'unknown', string]>([
    [72, false, 'sample'],
    [72, 'unknown', 'sample'],
    [73, false, 'ask-doctor'],
    [24, true, 'sample'],
    [25, true, 'ask-doctor'],
    [1100, 'unknown', 'ask-doctor'],
  ])('of %d h, something new since: %s -> %s', (inrAgeHours, changedSinceInr, decision) => {
    const told = assess(onWarfarin({ inrAgeHours, changedSinceInr }));
    expect(told.decision).toBe(decision);
    if (decision === 'ask-doctor') expect(told).toMatchObject({ because: ['inr-too-old'], missing: ['inr'] });
  });

  it('counts longer only where the programme has chosen so, never longer after something new', () => {
    const week = { inrAgeHours: 150 };
    expect(assess(onWarfarin(week), { inrHours: 168 }).decision).toBe('sample');
    expect(assess(onWarfarin({ ...week, changedSinceInr: true }), { inrHours: 168 }).decision).toBe('ask-doctor');
  });

  it('of unknown age is measured again: it may be older than the source lets one count', () => {
    for (const inrAgeHours of [undefined, 'unknown'] as const) {
      const told = assess(onWarfarin(inrAgeHours === undefined ? {} : { inrAgeHours }));
      expect(told).toMatchObject({ decision: 'ask-doctor', because: ['inr-age-unknown'], missing: ['inrAgeHours'] });
    }
    expect(assess(onWarfarin({ inrAgeHours: 3 })).because).not.toContain('inr-age-unknown');
    expect(assess(onWarfarin({ inr: 3.4 })).because).toEqual(['inr-over-3']);
  });

  it('of two days counts, but it is said that something new would make it too old', () => {
    const told = assess(onWarfarin({ inrAgeHours: 48 }));
    expect(told).toMatchObject({ decision: 'sample', missing: ['changedSinceInr'] });
    expect(told.cautions).toContain('inr-change-unknown');
    const settled = assess(onWarfarin({ inrAgeHours: 48, changedSinceInr: false }));
    expect(settled.cautions).not.toContain('inr-change-unknown');
  });

  it('over the limit is said as such, however old', () => {
    expect(assess(onWarfarin({ inr: 3.4, inrAgeHours: 300 })).because).toEqual(['inr-over-3']);
  });

  it('is no matter where no needle is in question', () => {
    const cyst = adult(look('cyst', 40), { bleeding: ['warfarin'], inr: 2.4, inrAgeHours: 900 });
    expect(assess(cyst)).toMatchObject({ decision: 'no-sampling', missing: [] });
  });

  it('has its age asked, and what is new since, where that can change the answer', () => {
    const fields = (more: Findings) =>
      openQuestions(onWarfarin(more), { governing: 'common-practice' }).map(({ field }) => field);
    expect(fields({})).toEqual(['inrAgeHours']);
    expect(fields({ inrAgeHours: 20 })).toEqual([]);
    expect(fields({ inrAgeHours: 30 })).toEqual(['changedSinceInr']);
    expect(fields({ inrAgeHours: 30, changedSinceInr: false })).toEqual([]);
    expect(fields({ inrAgeHours: 90 })).toEqual([]);
    const week = openQuestions(onWarfarin({ inrAgeHours: 90 }), { governing: 'common-practice', inrHours: 168 });
    expect(week).toEqual([{ item: null, field: 'changedSinceInr' }]);
  });
});
