import { describe, expect, it } from 'vitest';
import { afterAttempt, countsAsMaterial } from '../../src/clinical/sampling.ts';
import { orderFaults, type SamplingStep, samplingSteps } from '../../src/clinical/sampling-steps.ts';
import type { Technique } from '../../src/clinical/supplies.ts';

const TECHNIQUES: Technique[] = ['capillary', 'holder', 'second-operator', 'improvised-holder'];

function swapped(steps: readonly SamplingStep[], one: SamplingStep, other: SamplingStep): SamplingStep[] {
  return steps.map((step) => (step === one ? other : step === other ? one : step));
}

describe('order of sampling', () => {
  it.each(TECHNIQUES)('%s keeps every rule of order', (technique) => {
    expect(orderFaults(samplingSteps(technique))).toEqual([]);
  });

  it.each<[SamplingStep, SamplingStep, string]>([
    ['release-plunger', 'withdraw', 'not-released-before-withdraw'],
    ['enter', 'pull-plunger', 'pulled-outside-nodule'],
    ['expel-tip-on-glass', 'smear', 'not-expelled-before-smear'],
    ['fix-at-once', 'needle-to-sharps-box', 'not-fixed-at-once-after-smear'],
    ['open-fixative', 'enter', 'fixative-not-open-before-puncture'],
  ])('%s exchanged with %s is a fault', (one, other, fault) => {
    expect(orderFaults(swapped(samplingSteps('holder'), one, other))).toContain(fault);
  });

  it('suction that is never released is a fault', () => {
    const steps = samplingSteps('holder').filter((step) => step !== 'release-plunger');
    expect(orderFaults(steps)).toEqual(['not-released-before-withdraw']);
  });

  it('the capillary way pulls no plunger, and its air is drawn before the puncture', () => {
    const steps = samplingSteps('capillary');
    expect(steps).not.toContain('pull-plunger');
    expect(steps.indexOf('air-into-syringe')).toBeLessThan(steps.indexOf('enter'));
  });
});

describe('after an attempt', () => {
  const left = { attempt: 1, policyLimit: 3, slidesLeft: 2, needlesLeft: 1 };

  it('material ends the punctures', () => {
    expect(afterAttempt({ ...left, outcome: 'material' })).toEqual({ next: 'done' });
  });

  it('blood never counts as material', () => {
    expect(countsAsMaterial('blood')).toBe(false);
    expect(countsAsMaterial('material')).toBe(true);
  });

  it('blood is smeared, then a new needle at another point', () => {
    expect(afterAttempt({ ...left, outcome: 'blood' })).toEqual({
      next: 'again',
      advice: [
        'needle-out',
        'press',
        'smear-the-blood-and-mark-it',
        'new-needle-and-syringe',
        'other-point',
        'capillary-preferred',
      ],
    });
  });

  it.each([
    ['the limit of the policy', { attempt: 3 }, 'limit-reached'],
    ['five, whatever the policy says', { attempt: 5, policyLimit: 9 }, 'limit-reached'],
    ['one slide left', { slidesLeft: 1 }, 'no-slides-left'],
    ['no needle left', { needlesLeft: 0 }, 'no-needle-left'],
  ])('%s: the doctor is asked', (_, change, because) => {
    for (const outcome of ['blood', 'too-little'] as const) {
      expect(afterAttempt({ ...left, ...change, outcome })).toMatchObject({ next: 'ask-doctor', because });
    }
  });

  it('blood in the last attempt is still smeared', () => {
    expect(afterAttempt({ ...left, attempt: 3, outcome: 'blood' })).toMatchObject({
      advice: expect.arrayContaining(['smear-the-blood-and-mark-it']),
    });
  });

  it('an unwell patient ends sampling even with everything left', () => {
    expect(afterAttempt({ ...left, outcome: 'unwell' })).toMatchObject({ next: 'stop' });
  });
});
