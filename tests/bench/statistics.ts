/** What is said of many measurements. */

/** A median with the least and the greatest beside it. */
export interface Spread {
  readonly median: number;
  readonly least: number;
  readonly most: number;
}

/** The value that `share` (0 to 1) of the list does not exceed. 0 for an empty list. */
export function percentile(list: readonly number[], share: number): number {
  const sorted = [...list].sort((a, b) => a - b);
  return sorted[Math.max(0, Math.ceil(sorted.length * share) - 1)] ?? 0;
}

/** The middle of the list (of an even count, the mean of the two in the middle), with its ends. */
export function spread(list: readonly number[]): Spread {
  const sorted = [...list].sort((a, b) => a - b);
  const half = sorted.length / 2;
  const median = (sorted[Math.ceil(half) - 1]! + sorted[Math.floor(half)]!) / 2;
  return { median, least: sorted[0]!, most: sorted.at(-1)! };
}

export function sum(list: readonly number[]): number {
  return list.reduce((total, one) => total + one, 0);
}
