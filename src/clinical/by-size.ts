/** What a policy says of one look at every size: where watching ends and the needle begins. */
import { type PolicyReading, policyOf, readPolicy } from './completions.ts';
import { partingMm } from './doubts.ts';
import { plausible } from './findings.ts';
import type { KnownNodule } from './known.ts';
import { solidPartThresholdsMm } from './policies/common-practice.ts';
import type { PolicyId } from './policies/policy.ts';

/** A stretch of sizes with one reading. mm; `fromIncluded`: the size `fromMm` itself belongs to it ("from", not "over"). */
export interface SizeStretch {
  readonly fromMm: number;
  readonly fromIncluded: boolean;
  readonly toMm: number;
  readonly decision: PolicyReading['decision'];
  readonly decisions: PolicyReading['decisions'];
}

/** `of`: the diameter that the policy goes by, that of the whole lump or of the solid part of a mixed one. */
export interface BySize {
  readonly of: 'mm' | 'solidPartMm';
  readonly stretches: readonly SizeStretch[];
}

/** A step to either side of a size, mm: the one that tells where systems part. */
export const step = partingMm.above - partingMm.at;

/**
 * The readings of the policy over all plausible sizes, the look as it is. Found by reading the policy below, at and above
 * each of its thresholds, so that `>` and `>=` stay what its table says.
 */
export function readingsBySize(id: PolicyId, nodule: KnownNodule): BySize {
  const bySolid = id === 'common-practice' && nodule.composition === 'mixed';
  const [least, most] = plausible.mm;
  const read = (mm: number): PolicyReading =>
    readPolicy(id, bySolid ? { ...nodule, solidPartMm: mm } : { ...nodule, size: { least: mm, most: mm } });
  const thresholds = bySolid ? solidPartThresholdsMm : policyOf(id).thresholdsMm;
  const stretches: SizeStretch[] = [];
  const add = (fromMm: number, fromIncluded: boolean, { decision, decisions }: PolicyReading): void => {
    const last = stretches.at(-1);
    if (last !== undefined && isSame(last.decisions, decisions)) return;
    if (last !== undefined) stretches[stretches.length - 1] = { ...last, toMm: fromMm };
    stretches.push({ fromMm, fromIncluded, toMm: most, decision, decisions });
  };
  add(least, true, read(least));
  for (const threshold of thresholds) {
    add(threshold, true, read(threshold));
    add(threshold, false, read(threshold + step));
  }
  return { of: bySolid ? 'solidPartMm' : 'mm', stretches };
}

const isSame = (one: readonly string[], other: readonly string[]): boolean => one.join() === other.join();
