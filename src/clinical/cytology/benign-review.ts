import type { Deadline } from './action.ts';

/** What is done at the next look. */
export type ReviewHow = 'scan-and-needle' | 'scan' | 'scan-if-at-all' | 'scan-now-for-the-pattern';

/** The next look after a benign needle. `firstDays` is the day that is told, from the day of the result. */
export interface BenignReview {
  readonly pattern: 'high' | 'low-or-intermediate' | 'very-low' | 'unknown';
  readonly how: ReviewHow;
  readonly deadline: Deadline;
  readonly source: string;
}

const ATA = 'Haugen, Thyroid 2016;26:1, recommendation 23, from memory';

/** The day told: the last of "within 12 months", the first of "12 to 24" and of "24 or more" (our convention). */
const HIGH: BenignReview = review('high', 'scan-and-needle', { unit: 'days', notBefore: 0, latest: 365 });
const MIDDLE: BenignReview = review('low-or-intermediate', 'scan', { unit: 'days', notBefore: 365, latest: 730 });
const VERY_LOW: BenignReview = review('very-low', 'scan-if-at-all', { unit: 'days', notBefore: 730, latest: null });
const UNKNOWN: BenignReview = {
  ...review('unknown', 'scan-now-for-the-pattern', { unit: 'days', notBefore: 0, latest: 365 }),
  source: `the shortest of ${ATA}: our convention`,
};

/**
 * When to look again after Thy2, by the lump's ultrasound pattern (ATA 2015 levels, every one that unknowns leave open: the
 * soonest counts). A pure cyst goes with very low (our convention). No picture, or one that fits no pattern: the shortest,
 * and a scan first.
 */
export function benignReview(ataLevels: readonly string[]): BenignReview {
  if (ataLevels.length === 0 || ataLevels.includes('unclassified')) return UNKNOWN;
  if (ataLevels.includes('high')) return ataLevels.length === 1 ? HIGH : UNKNOWN;
  if (ataLevels.some((level) => level === 'low' || level === 'intermediate')) return MIDDLE;
  return VERY_LOW;
}

function review(pattern: BenignReview['pattern'], how: ReviewHow, deadline: Deadline): BenignReview {
  return { pattern, how, deadline, source: ATA };
}
