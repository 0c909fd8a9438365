/** How good the samples are: small honest numbers, each with what it is a part of. Practice counts nowhere. */
import { isUnreadable } from '../clinical/cytology/action.ts';
import type { Case, Specimen } from './case.ts';

export interface Figures {
  readonly siteId: string;
  /** Specimens with a result. */
  readonly results: number;
  /** Of those, first results that could not be read (Thy1, Thy1c or their like, L1). */
  readonly unreadable: number;
  readonly attempts: number;
  /** Of the attempts, those that gave blood. */
  readonly bloody: number;
  /** Specimens posted and not yet answered. */
  readonly awaited: number;
  /** Days from needle to first result, the middle one of all; null = no result. */
  readonly medianDays: number | null;
}

const dayMs = 86_400_000;

function daysOf(one: Specimen): number | null {
  const first = one.results[0];
  return first && one.takenAt !== null ? Math.max(0, (first.at - one.takenAt) / dayMs) : null;
}

function median(values: readonly number[]): number | null {
  const sorted = [...values].sort((a, b) => a - b);
  const half = sorted.length / 2;
  if (sorted.length === 0) return null;
  const middle = Number.isInteger(half) ? (sorted[half - 1]! + sorted[half]!) / 2 : sorted[Math.floor(half)]!;
  return Math.round(middle);
}

/** Figures of each site that sampled anything, by site id. The first result of a specimen counts, not its amendments. */
export function figuresOf(cases: readonly Case[]): readonly Figures[] {
  const real = cases.filter((of) => !of.practice);
  const siteIds = [...new Set(real.map((of) => of.siteId))].sort();
  return siteIds.flatMap((siteId) => {
    const taken = real.filter((of) => of.siteId === siteId).flatMap((of) => of.specimens);
    const attempts = taken.flatMap((one) => one.attempts);
    if (attempts.length === 0) return [];
    const answered = taken.filter((one) => one.results.length > 0);
    return [
      {
        siteId,
        results: answered.length,
        unreadable: answered.filter((one) => isUnreadable(one.results[0]!.result.canonical)).length,
        attempts: attempts.length,
        bloody: attempts.filter((outcome) => outcome === 'blood').length,
        awaited: taken.filter((one) => one.postedAt !== null && one.results.length === 0 && one.end === null).length,
        medianDays: median(answered.flatMap((one) => daysOf(one) ?? [])),
      },
    ];
  });
}
