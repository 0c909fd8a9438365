import { hasKnownSuspiciousFeature, readPolicy } from './completions.ts';
import type { FindingsField } from './findings.ts';
import type { KnownNodule } from './known.ts';
import { type PolicyId, policyIds } from './policies/policy.ts';
import type { Reason } from './reasons.ts';
import { type Score, unique } from './score.ts';
import type { WeighedNodule } from './several-nodules.ts';

/*
 * Looks on which the tables have an answer that nobody should rest on. They leave every policy's outcome as it is; the
 * whole is never a settled reassurance, but the doctor's (our convention).
 */

/** The size at which the systems part (`>` against `>=`), and a step to either side of it. */
export const partingMm = { at: 10, below: 9.9, above: 10.1 } as const;

/** Exactly 10.0 mm where some policy samples here or just above: measure again. */
export function isExactlyAtParting(nodule: KnownNodule): boolean {
  if (nodule.size?.least !== partingMm.at || nodule.size.most !== partingMm.at) return false;
  return policyIds.some((id) => {
    const at = (mm: number) => readPolicy(id, { ...nodule, size: { least: mm, most: mm } }).decisions;
    const [below, here, above] = [at(partingMm.below), at(partingMm.at), at(partingMm.above)];
    return (here.includes('sample') || above.includes('sample')) && !below.includes('sample');
  });
}

/**
 * Features that cannot be true together, as the fields to look at again: a cyst or sponge with a suspicious feature
 * (Tessler, J Am Coll Radiol 2017;14:587, asks to reconsider such a sponge, as given in a lecture), a black inside that is
 * not fluid (black is a value of fluid only: chart of the American College of Radiology; a black solid lump is a very dark
 * one), a solid part larger than its nodule. Our convention.
 */
export function contradictionsIn(nodule: KnownNodule): readonly FindingsField[] {
  const { composition, echogenicity, solidPartMm, size } = nodule;
  const fields: FindingsField[] = [];
  if ((composition === 'cystic' || composition === 'spongiform') && hasKnownSuspiciousFeature(nodule)) {
    fields.push('composition');
  }
  if (
    echogenicity === 'anechoic' &&
    (composition === 'mixed' || composition === 'solid' || composition === 'obscured')
  ) {
    fields.push('composition', 'echogenicity');
  }
  if (solidPartMm !== null && size !== null && solidPartMm > size.most) fields.push('solidPartMm', 'mm');
  return fields;
}

function doubtsOf(weighed: WeighedNodule, governing: PolicyId): readonly Reason[] {
  const { nodule, outcome, readings } = weighed;
  const doubts: Reason[] = [];
  if (contradictionsIn(nodule).length > 0) doubts.push('contradictory-features');
  if (outcome === 'sample') return doubts;
  // Black and not known to be fluid: the tables would count it as little as a cyst.
  if (nodule.echogenicity === 'anechoic' && nodule.composition === null) doubts.push('composition-unknown');
  if (nodule.capsule === 'invaded') doubts.push('capsule-invaded');
  const others = policyIds.filter((id) => id !== governing);
  if (isExactlyAtParting(nodule) && others.some((id) => readings[id].decisions.includes('sample'))) {
    doubts.push('exactly-10-mm');
  }
  return doubts;
}

/**
 * A score that rests on such a look goes to the doctor: a contradiction, growth out of the capsule that is not sampled,
 * 10.0 mm where another system samples and the governing one does not. A nodule without a doubt that is to be sampled
 * carries the score alone, as it does beside one that is undetermined.
 */
export function withDoubts(score: Score, nodules: readonly WeighedNodule[], governing: PolicyId): Score {
  const told = nodules.map((one) => ({ outcome: one.outcome, doubts: doubtsOf(one, governing) }));
  const doubts = told.flatMap((one) => one.doubts);
  if (doubts.length === 0 || told.some((one) => one.outcome === 'sample' && one.doubts.length === 0)) return score;
  const missing: readonly FindingsField[] = doubts.includes('composition-unknown') ? ['composition'] : [];
  const because = unique([...score.because, ...doubts]);
  return { decision: 'ask-doctor', because, missing: unique([...score.missing, ...missing]) };
}
