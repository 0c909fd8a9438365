import type { KnownNodule } from './known.ts';
import { type Growth, type GrowthRule, growthBetween } from './nodule.ts';
import type { PolicyId } from './policies/policy.ts';
import { type Score, unique } from './score.ts';

/** The governing policy's own wording of growth; where it has none, the one that sees growth earlier (our convention). */
export function growthRule(governing: PolicyId): GrowthRule {
  return governing === 'ata-2015' ? 'ata' : 'acr';
}

/** Growth of a nodule since the earlier examination that was told with it. */
export function growthOf({ earlierMm, mm }: KnownNodule, governing: PolicyId): Growth {
  return growthBetween(earlierMm, mm, growthRule(governing));
}

/**
 * A nodule that has grown is not simply watched on: no table here says what to do with it below its sizes, so the doctor
 * does (our convention; that growth is a reason to think of a needle again: Haugen, Thyroid 2016;26:1). A cyst is left
 * out: it is drained for symptoms only. Never calms: `sample` and `optional` stay what they are.
 */
export function withGrowth(score: Score, nodules: readonly KnownNodule[], governing: PolicyId): Score {
  if (score.decision !== 'follow-up' && score.decision !== 'no-sampling') return score;
  const grown = nodules.some((one) => one.composition !== 'cystic' && growthOf(one, governing) === 'grown');
  return grown ? { ...score, decision: 'ask-doctor', because: unique([...score.because, 'grown']) } : score;
}
