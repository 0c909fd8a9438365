import { describe, expect, it } from 'vitest';
import type { Findings } from '../../src/clinical/findings.ts';
import { assess } from '../../src/clinical/indication.ts';
import { adult, look } from '../published/look.ts';

const solid = (mm: number) => look('solid hypo wide smooth no-foci', mm);
const unscanned = (more: Findings): Findings => {
  const { nodules: _, ...without } = adult({});
  return { ...without, ultrasound: { done: false }, ...more };
};
const of = (findings: Findings) => {
  const { decision, because } = assess(findings);
  return [decision, because[0]];
};

describe('a known stop is said as such, whatever step is still missing', () => {
  it.each<[string, Findings, string, string]>([
    ['a hot nodule without ultrasound', unscanned({ tsh: 'low', scan: 'hot' }), 'refer-first', 'hot-nodule'],
    ['a bleeding disorder', unscanned({ bleeding: ['bleeding-disorder'] }), 'refer-first', 'bleeding-disorder'],
    ['platelets of 15', unscanned({ platelets: 15 }), 'refer-first', 'platelets-under-20'],
    ['an INR of 3.6', unscanned({ bleeding: ['warfarin'], inr: 3.6 }), 'ask-doctor', 'inr-over-3'],
    ['a lump that pulsates', unscanned({ lump: ['pulsates'] }), 'refer-first', 'pulsates'],
    [
      'not examined, haemophilia',
      adult(solid(20), { examined: false, bleeding: ['bleeding-disorder'] }),
      'refer-first',
      'bleeding-disorder',
    ],
  ])('%s', (_, findings, decision, because) => {
    expect(of(findings)).toEqual([decision, because]);
    expect(assess(findings).missing).not.toContain('ultrasound.done');
  });

  it('a child and a family of medullary cancer come before it', () => {
    expect(of(unscanned({ patient: { ageYears: 12 }, scan: 'hot' }))).toEqual(['refer-first', 'child']);
    expect(of(unscanned({ risks: ['family-medullary'], bleeding: ['bleeding-disorder'] }))).toEqual([
      'refer-first',
      'family-medullary',
    ]);
  });

  it('it comes before a low TSH without a scan', () => {
    expect(of(adult(solid(20), { tsh: 'low', bleeding: ['bleeding-disorder'] }))[1]).toBe('bleeding-disorder');
  });

  it('the missing steps come before what is open of the bleeding history', () => {
    expect(of(unscanned({ bleeding: ['warfarin'] }))).toEqual(['examine-first', 'no-ultrasound']);
  });
});

describe('where no needle is in question', () => {
  it.each<[string, Findings, string]>([
    ['a cyst of 8 mm', adult(look('cyst', 8)), 'no-sampling'],
    ['a solid lump of 7 mm', adult(solid(7)), 'follow-up'],
  ])('a bleeding disorder refers nobody with %s', (_, findings, decision) => {
    expect(assess({ ...findings, bleeding: ['bleeding-disorder'] }).decision).toBe(decision);
    expect(assess({ ...findings, platelets: 12 }).decision).toBe(decision);
    expect(assess({ ...findings, bleeding: ['warfarin'], inr: 4 }).decision).toBe(decision);
  });

  it('but an urgent needle is one in question', () => {
    const urgent = adult(look('cyst', 8), { dangerSigns: ['neck-nodes'], bleeding: ['bleeding-disorder'] });
    expect(assess(urgent)).toMatchObject({ decision: 'refer-urgent', sampleToo: 'no' });
  });
});

describe('what a hand finds at the lump', () => {
  it.each(['breathless', 'hard', 'fixed'] as const)('%s is an urgent sign', (sign) => {
    expect(of(adult(solid(20), { dangerSigns: [sign] }))).toEqual(['refer-urgent', sign]);
  });

  it('breathless is no reason for a needle without ultrasound, hard and fixed are', () => {
    const sampleToo = (sign: 'breathless' | 'hard' | 'fixed') => assess(unscanned({ dangerSigns: [sign] })).sampleToo;
    expect([sampleToo('breathless'), sampleToo('hard'), sampleToo('fixed')]).toEqual(['no', 'yes', 'yes']);
  });

  it('nobody who is breathless is laid flat', () => {
    expect(assess(adult(solid(20), { dangerSigns: ['breathless'] })).cautions).toContain('breathless-not-flat');
  });

  it.each([solid(30), look('cyst', 8)])('a lump that pulsates is referred and never punctured', (nodule) => {
    expect(assess(adult(nodule, { lump: ['pulsates'] }))).toMatchObject({
      decision: 'refer-first',
      because: ['pulsates'],
      proposed: [],
    });
  });

  it('nor is it while an urgent referral is under way', () => {
    const urgent = adult(solid(30), { lump: ['pulsates'], dangerSigns: ['neck-nodes', 'rapid-growth'] });
    expect(assess(urgent)).toMatchObject({ decision: 'refer-urgent', sampleToo: 'no', proposed: [] });
    expect(assess(urgent).cautions).not.toContain('sample-node-too');
  });

  it('a lump that moves with the tongue is the doctor’s', () => {
    expect(of(adult(solid(30), { lump: ['moves-with-tongue'] }))).toEqual(['ask-doctor', 'moves-with-tongue']);
    expect(assess(adult(solid(30), { lump: ['moves-with-tongue'], dangerSigns: ['voice-change'] })).sampleToo).toBe(
      'ask-doctor',
    );
  });

  it('that nobody has asked changes nothing', () => {
    expect(assess(adult(solid(30), { lump: ['unknown'] })).decision).toBe('sample');
  });
});

describe('which first referral is urgent', () => {
  const tr5 = look('solid vhypo tall jagged tiny', 25);
  it.each<[string, Findings, boolean]>([
    ['a child', adult(solid(12), { patient: { ageYears: 9 } }), true],
    ['a low TSH without a scan and a very suspicious look', adult(tr5, { tsh: 'low' }), true],
    ['a bleeding disorder and a very suspicious look', adult(tr5, { bleeding: ['bleeding-disorder'] }), true],
    ['a low TSH without a scan, a plain look', adult(look('solid iso wide smooth no-foci', 25), { tsh: 'low' }), false],
    ['a hot nodule of any look', adult(tr5, { tsh: 'low', scan: 'hot' }), false],
    ['a very suspicious look under any size of a needle', adult({ ...tr5, mm: [6] }, { tsh: 'low' }), false],
  ])('%s', (_, findings, urgent) => {
    const { decision, cautions } = assess(findings);
    expect(decision).toBe('refer-first');
    expect(cautions.includes('urgent-appointment')).toBe(urgent);
  });
});
