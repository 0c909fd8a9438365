import type { PolicyId } from './policies/policy.ts';

/** What a whole case comes to. */
export const decisions = [
  'emergency-now',
  'refer-urgent',
  'refer-first',
  'examine-first',
  'sample',
  'sample-elsewhere',
  'optional',
  'follow-up',
  'no-sampling',
  'ask-doctor',
] as const;
export type Decision = (typeof decisions)[number];

/** Every reason that a decision can give. The words for people stand in the locales. */
export const reasons = [
  // danger signs
  'stridor',
  'breathless',
  'rapid-growth',
  'hard-or-fixed',
  'hard',
  'fixed',
  'voice-change',
  'neck-nodes',
  'swallowing',
  // what is not known and must be before a needle is named
  'danger-signs-unknown',
  'age-unknown',
  'risks-unknown',
  'tsh-unknown',
  'bleeding-unknown',
  'palpable-unknown',
  'findings-leave-it-open',
  'contradictory-features',
  'exactly-10-mm',
  // who and what first
  'child',
  'family-medullary',
  'not-examined',
  'no-ultrasound',
  'nodules-not-described',
  'hot-nodule',
  'pulsates',
  'moves-with-tongue',
  'low-tsh-without-scan',
  'overactive-without-tsh',
  'low-tsh-early-pregnancy',
  'low-tsh-pregnancy-may-wait',
  // contraindications
  'bleeding-disorder',
  'platelets-under-20',
  'platelets-20-to-50',
  'inr-over-3',
  'inr-unknown',
  'inr-too-old',
  'inr-age-unknown',
  'iv-antiplatelet',
  // the look of the nodule
  'no-nodule',
  'felt-but-not-seen',
  'cystic',
  'spongiform',
  'mixed',
  'solid',
  'hidden-by-calcium',
  'composition-unknown',
  'solid-part-not-measured',
  'size-reached',
  'size-not-reached',
  'taller-than-wide',
  'microcalcification',
  'irregular-margin',
  'capsule-invaded',
  'acr-tr1',
  'acr-tr2',
  'acr-tr3',
  'acr-tr4',
  'acr-tr5',
  'eu-2',
  'eu-3',
  'eu-4',
  'eu-5',
  'ata-benign',
  'ata-very-low',
  'ata-low',
  'ata-intermediate',
  'ata-high',
  'ata-unclassified',
  'pet-focus',
  'higher-risk',
  'grown',
  'impalpable-without-guidance',
] as const;
export type Reason = (typeof reasons)[number];

/** Everything that may have to be said beside a decision. The words for people stand in the locales. */
export const cautions = [
  'danger-signs-open',
  'airway-first',
  'breathless-not-flat',
  'do-not-delay-referral',
  'urgent-appointment',
  'sample-node-too',
  'calcitonin-first',
  'bleeding-place',
  'child-under-guidance-only',
  'exactly-10-mm',
  'size-uncertain',
  'grown',
  'poor-probe',
  'contradictory-features',
  'policies-disagree',
  'small-but-suspicious',
  'treat-as-intermediate',
  'higher-risk-smaller-size-allowed',
  'cyst-drain-only-for-symptoms',
  'tsh-unknown',
  'no-scan-in-pregnancy',
  'ask-pregnancy-before-scan',
  'pregnant-timing-by-choice',
  'blood-thinner-do-not-stop',
  'inr-change-unknown',
  'antiplatelet-bruising',
  'heparin-check-platelets',
  'iv-antiplatelet-wait',
  'prescriber-decides',
  'platelets-prefer-referral',
  'guidance-required',
  'palpable-unknown',
  'impalpable-without-guidance',
  'another-under-guidance',
  'more-than-four-nodules',
] as const;
export type Caution = (typeof cautions)[number];

const prefixes: { readonly [P in PolicyId]: string | null } = {
  'common-practice': null,
  'acr-2017': 'acr-',
  'eu-2017': 'eu-',
  'ata-2015': 'ata-',
};

/** The reason that names a level of a policy, or `null` for a policy without levels. */
export function levelReason(policy: PolicyId, level: string): Reason | null {
  const prefix = prefixes[policy];
  if (prefix === null) return null;
  return reasons.find((reason) => reason === `${prefix}${level.toLowerCase()}`) ?? null;
}
