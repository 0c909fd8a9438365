import type { FindingsField } from './findings.ts';
import { isLatePregnancy } from './gates.ts';
import type { KnownFindings, KnownNodule } from './known.ts';
import type { Outcome, PolicyId } from './policies/policy.ts';
import { isIrregular } from './policies/policy.ts';
import { type Decision, levelReason, type Reason } from './reasons.ts';
import { settlingFields } from './settling.ts';
import { bySuspicion, type WeighedNodule } from './several-nodules.ts';

/** What the nodules come to once every gate is passed. */
export interface Score {
  readonly decision: Extract<Decision, 'sample' | 'optional' | 'follow-up' | 'no-sampling' | 'ask-doctor'>;
  readonly because: readonly Reason[];
  /** Fields that could still change the decision, best first. */
  readonly missing: readonly FindingsField[];
}

const mostFirst: readonly Outcome[] = ['sample', 'undetermined', 'optional', 'follow-up', 'no-sampling'];

/**
 * The one decision over all nodules: a nodule to sample decides; else one that is undetermined keeps the case open;
 * else the most that any of them asks for. Where a low TSH of late pregnancy lets sampling wait, it becomes optional.
 */
export function scoreOf(known: KnownFindings, nodules: readonly WeighedNodule[], governing: PolicyId): Score {
  const ranked = [...nodules].sort(bySuspicion);
  const outcome = mostFirst.find((one) => ranked.some((weighed) => weighed.outcome === one));
  const leading = ranked.find((weighed) => weighed.outcome === outcome);
  if (outcome === undefined || leading === undefined) return scoreWithoutNodule(known);
  const missing = outcome === 'sample' ? [] : unique(ranked.flatMap((weighed) => stillMissing(weighed, governing)));
  const because = reasonsFor(leading, governing);
  if (outcome === 'undetermined')
    return { decision: 'ask-doctor', because: [...because, 'findings-leave-it-open'], missing };
  if (outcome === 'sample' && known.tsh === 'low' && isLatePregnancy(known)) {
    return { decision: 'optional', because: [...because, 'low-tsh-pregnancy-may-wait'], missing };
  }
  return { decision: outcome, because, missing };
}

function scoreWithoutNodule(known: KnownFindings): Score {
  if (known.palpable === true) return { decision: 'ask-doctor', because: ['felt-but-not-seen'], missing: ['nodules'] };
  return { decision: 'no-sampling', because: ['no-nodule'], missing: [] };
}

function stillMissing({ nodule, raisedBy }: WeighedNodule, governing: PolicyId): readonly FindingsField[] {
  return raisedBy === 'pet-focus' ? [] : settlingFields(governing, nodule);
}

/** Why a nodule comes to its outcome: what it looks like, its level, whether the size is reached, what strengthens it. */
function reasonsFor({ nodule, readings, outcome, raisedBy }: WeighedNodule, governing: PolicyId): Reason[] {
  const reading = readings[governing];
  const because: Reason[] = [insideReason(nodule)];
  for (const level of reading.levels ?? []) {
    const reason = levelReason(governing, level);
    if (reason !== null) because.push(reason);
  }
  if (governing === 'common-practice' && nodule.composition === 'mixed' && nodule.solidPartMm === null) {
    because.push('solid-part-not-measured');
  }
  if (raisedBy !== null) because.push(raisedBy);
  else if (outcome === 'sample' || outcome === 'optional') because.push('size-reached');
  else if (outcome === 'follow-up') because.push('size-not-reached');
  return [...because, ...strengthening(nodule)];
}

const insideReasons = {
  cystic: 'cystic',
  spongiform: 'spongiform',
  mixed: 'mixed',
  solid: 'solid',
  obscured: 'hidden-by-calcium',
} as const satisfies { readonly [C in NonNullable<KnownNodule['composition']>]: Reason };

const insideReason = ({ composition }: KnownNodule): Reason =>
  composition === null ? 'composition-unknown' : insideReasons[composition];

/** Features that strengthen a suspicion without creating it (common practice, no source); only those seen. */
export function strengthening({ shape, foci, margin, capsule }: KnownNodule): Reason[] {
  const seen: Reason[] = [];
  if (shape === 'taller-than-wide') seen.push('taller-than-wide');
  if (foci.present.includes('punctate')) seen.push('microcalcification');
  if (margin !== null && isIrregular(margin)) seen.push('irregular-margin');
  if (capsule === 'invaded') seen.push('capsule-invaded');
  return seen;
}

/** The values in their order, each once. */
export const unique = <T>(values: readonly T[]): readonly T[] => [...new Set(values)];
