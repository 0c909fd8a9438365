import { describe, expect, it } from 'vitest';
import { afterAttempt } from '../../src/clinical/sampling.ts';

describe('after an attempt', () => {
  const left = { attempt: 1, policyLimit: 3, slidesLeft: 2, needlesLeft: 1 };

  it('material ends the punctures', () => {
    expect(afterAttempt({ ...left, outcome: 'material' })).toEqual({ next: 'done' });
  });

  it('blood never counts as material', () => {
    for (const outcome of ['blood', 'too-little', 'unwell'] as const) {
      expect(afterAttempt({ ...left, outcome }).next).not.toBe('done');
    }
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
