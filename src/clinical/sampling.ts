import { assertNever } from './assert-never.ts';

/**
 * Punctures of one nodule: 2 to 5 are reasonable (PathologyOutlines, thyroid FNA); adequacy of the first to fourth pass
 * 76.0, 82.6, 77.7, 71.2 %, no significant difference (Kuzan et al., Eur Thyroid J 2020;9(1)).
 */
export const PASSES = { least: 2, most: 5 } as const;

/** One attempt fills a pair of slides: the drop on one, smeared with the other, both fixed. */
export const SLIDES_PER_ATTEMPT = 2;

/**
 * Seconds of strokes inside the nodule, at about 3 a second (PathologyOutlines, thyroid FNA); the direction changes
 * between passes, since fanning within one bleeds more (thyroid FNA complications, textbook extract).
 */
export const STROKE_SECONDS = { least: 2, most: 5 } as const;

/** Air drawn into the syringe to expel the sample, ml (5 ml: Thyroidmanager figure 3; up to 10: common practice). */
export const AIR_ML = { least: 5, most: 10 } as const;

/**
 * How an attempt ended, as the worker saw it; only the laboratory decides adequacy. Neither blood nor fluid counts as
 * material. The order is that of their digits.
 */
export const attemptOutcomes = ['material', 'blood', 'too-little', 'unwell', 'fluid'] as const;
export type AttemptOutcome = (typeof attemptOutcomes)[number];

/** What can be reported of an attempt: also that no needle went in after all, which is none. In the order of their digits. */
export const attemptReports = [...attemptOutcomes, 'not-done'] as const;
export type AttemptReport = (typeof attemptReports)[number];

/** Pairs of slides that these attempts have used up: fluid goes into a tube of its own, unless it was `smeared`, so many times. */
export function pairsUsed(attempts: readonly AttemptOutcome[], smeared = 0): number {
  return attempts.filter((one) => one !== 'fluid').length + smeared;
}

/** What to do before the next puncture. */
export type AttemptAdvice =
  | 'press'
  | 'smear-the-blood-and-mark-it'
  | 'new-needle-and-syringe'
  | 'other-point'
  | 'capillary-preferred'
  | 'keep-the-fluid'
  | 'feel-again'
  | 'needle-out';

/** An attempt that is over, counted from 1, and what is left of slides and needles after it. */
export type Attempt = {
  readonly attempt: number;
  readonly outcome: AttemptOutcome;
  /** Attempts that the programme allows; more than 5 counts as 5. */
  readonly policyLimit: number;
  readonly slidesLeft: number;
  readonly needlesLeft: number;
};

/** `because` says which limit was reached, in the order limit, slides, needles. */
export type AfterAttempt =
  | { readonly next: 'done' }
  | { readonly next: 'again'; readonly advice: readonly AttemptAdvice[] }
  | {
      readonly next: 'ask-doctor';
      readonly because: 'limit-reached' | 'no-slides-left' | 'no-needle-left';
      readonly advice: readonly AttemptAdvice[];
    }
  | { readonly next: 'stop'; readonly advice: readonly AttemptAdvice[] };

/**
 * Says what follows an attempt. Only material counts, blood is never taken for a sample (our convention). Blood: stop, press, smear what is in the needle (Eurocytology, thyroid FNA with syringe
 * pistol), then a new needle at another point. Fluid is kept, the lump felt or scanned again, and what is solid of it sampled with a
 * new needle (our convention; the solid part may show only then). A reached limit asks the doctor; an unwell patient ends sampling.
 */
export function afterAttempt(done: Attempt): AfterAttempt {
  switch (done.outcome) {
    case 'material':
      return { next: 'done' };
    case 'unwell':
      return { next: 'stop', advice: ['needle-out', 'press'] };
    case 'blood':
      return again(
        done,
        ['needle-out', 'press', 'smear-the-blood-and-mark-it'],
        ['new-needle-and-syringe', 'other-point', 'capillary-preferred'],
      );
    case 'too-little':
      return again(done, ['press'], ['new-needle-and-syringe', 'other-point']);
    case 'fluid':
      return again(done, ['press', 'keep-the-fluid'], ['feel-again', 'new-needle-and-syringe']);
    default:
      return assertNever(done.outcome);
  }
}

function again(done: Attempt, now: readonly AttemptAdvice[], next: readonly AttemptAdvice[]): AfterAttempt {
  if (done.attempt >= Math.min(done.policyLimit, PASSES.most)) {
    return { next: 'ask-doctor', because: 'limit-reached', advice: now };
  }
  if (done.slidesLeft < SLIDES_PER_ATTEMPT) return { next: 'ask-doctor', because: 'no-slides-left', advice: now };
  if (done.needlesLeft < 1) return { next: 'ask-doctor', because: 'no-needle-left', advice: now };
  return { next: 'again', advice: [...now, ...next] };
}
