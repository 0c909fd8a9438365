import type { PolicyId } from './policies/policy.ts';

/** When to look again, in months after this examination: the first look between two dates, later looks, and the source. */
export interface FollowUpInterval {
  readonly firstMonths: readonly [number, number];
  readonly laterMonths: readonly number[];
  readonly source: string;
}

const acr =
  'Tessler, J Am Coll Radiol 2017;14:587; years of the scans as given in the McMaster Textbook of Internal Medicine';
const eu = 'Durante, Eur Thyroid J 2023;12:e230067, from memory of two readers: check';
const ata =
  'Haugen, Thyroid 2016;26:1, recommendation 24, its number from memory: check; read in the Vanderbilt Internal Medicine handbook';
const ours = 'our convention';

const intervals: { readonly [P in PolicyId]: { readonly [level: string]: FollowUpInterval } } = {
  'common-practice': { any: { firstMonths: [6, 12], laterMonths: [], source: ours } },
  'acr-2017': {
    TR3: { firstMonths: [12, 12], laterMonths: [36, 60], source: acr },
    TR4: { firstMonths: [12, 12], laterMonths: [24, 36, 60], source: acr },
    TR5: { firstMonths: [12, 12], laterMonths: [24, 36, 48, 60], source: acr },
  },
  'eu-2017': {
    '3': { firstMonths: [36, 60], laterMonths: [], source: eu },
    '4': { firstMonths: [12, 12], laterMonths: [], source: eu },
    '5': { firstMonths: [6, 12], laterMonths: [], source: eu },
  },
  'ata-2015': {
    'very-low': { firstMonths: [24, 24], laterMonths: [], source: ata },
    low: { firstMonths: [12, 24], laterMonths: [], source: ata },
    intermediate: { firstMonths: [12, 24], laterMonths: [], source: ata },
    high: { firstMonths: [6, 12], laterMonths: [], source: ata },
    unclassified: { firstMonths: [6, 12], laterMonths: [], source: ours },
  },
};

/**
 * The interval for an outcome `follow-up` at one of the levels that a policy leaves open; the soonest when several are
 * open. `null` when the policy follows none of them (then the outcome is not `follow-up`).
 */
export function followUpMonths(policy: PolicyId, levels: readonly string[]): FollowUpInterval | null {
  const table = intervals[policy];
  const open = (policy === 'common-practice' ? ['any'] : levels)
    .map((level) => table[level])
    .filter((interval) => interval !== undefined)
    .sort((a, b) => a.firstMonths[0] - b.firstMonths[0] || b.laterMonths.length - a.laterMonths.length);
  return open[0] ?? null;
}
