import { hasFewPlatelets, mayHaveChanged, waitsAfterDrip } from './clotting.ts';
import { contradictionsIn, isExactlyAtParting } from './doubts.ts';
import type { FindingsField } from './findings.ts';
import { isChild } from './gates.ts';
import { growthOf } from './growth.ts';
import type { KnownFindings } from './known.ts';
import { type PolicyId, policyIds } from './policies/policy.ts';
import type { Candidate } from './proposed.ts';
import type { Caution, Decision, Reason } from './reasons.ts';
import { strengthening } from './score.ts';
import { hasHigherRisk, mostNodules, type WeighedNodule } from './several-nodules.ts';

/** Something to be said beside the decision, and what to look at again because of it. */
export interface CautionNote {
  readonly caution: Caution;
  readonly missing: readonly FindingsField[];
}

const note = (caution: Caution, ...missing: FindingsField[]): CautionNote => ({ caution, missing });

/** Linear probe of 7.5 MHz or more; any other is usable with a stand-off pad (common practice, no source). */
export const goodProbeFromMhz = 7.5;

/** Cautions that lie in the nodules and in the machine; they change no policy's outcome. */
export function nodulesCautions(
  known: KnownFindings,
  nodules: readonly WeighedNodule[],
  governing: PolicyId,
): readonly CautionNote[] {
  const notes: CautionNote[] = [];
  if (nodules.some(({ nodule }) => isExactlyAtParting(nodule))) notes.push(note('exactly-10-mm', 'mm'));
  if (nodules.some(({ nodule }) => nodule.size !== null && nodule.size.least < nodule.size.most)) {
    notes.push(note('size-uncertain'));
  }
  if (nodules.some(({ nodule }) => growthOf(nodule, governing) === 'grown')) notes.push(note('grown'));
  if (known.probe === 'other' || (known.mhz !== null && known.mhz < goodProbeFromMhz)) {
    const pad: FindingsField[] = known.standoff === true ? [] : ['ultrasound.standoff'];
    notes.push(note('poor-probe', 'ultrasound.probe', ...pad));
  }
  const contradictions = nodules.flatMap(({ nodule }) => contradictionsIn(nodule));
  if (contradictions.length > 0) notes.push(note('contradictory-features', ...contradictions));
  if (nodules.some(policiesDisagree)) notes.push(note('policies-disagree'));
  if (nodules.some((weighed) => isSmallButSuspicious(weighed, governing))) notes.push(note('small-but-suspicious'));
  if (nodules.some((weighed) => isSilentAta(weighed, governing))) notes.push(note('treat-as-intermediate'));
  if (nodules.some(({ nodule }) => nodule.composition === 'cystic')) notes.push(note('cyst-drain-only-for-symptoms'));
  if (hasHigherRisk(known) && nodules.some(isLeftAlone)) {
    notes.push(note('higher-risk-smaller-size-allowed'));
  }
  if (nodules.length > mostNodules.weighed) notes.push(note('more-than-four-nodules'));
  return notes;
}

/** No needle, and not because it is a cyst, where a needle at a smaller size would change nothing. */
const isLeftAlone = ({ nodule, outcome }: WeighedNodule): boolean =>
  nodule.composition !== 'cystic' && (outcome === 'follow-up' || outcome === 'no-sampling');

function policiesDisagree({ readings }: WeighedNodule): boolean {
  const words = policyIds.map((id) => readings[id].decision);
  const noNeedle = words.includes('follow-up') || words.includes('no-sampling');
  return noNeedle && (words.includes('sample') || words.includes('optional'));
}

function isSmallButSuspicious({ nodule, outcome }: WeighedNodule, governing: PolicyId): boolean {
  return (
    governing === 'common-practice' &&
    nodule.composition === 'solid' &&
    outcome === 'follow-up' &&
    strengthening(nodule).length > 0
  );
}

function isSilentAta({ nodule, readings }: WeighedNodule, governing: PolicyId): boolean {
  const { decisions, levels } = readings[governing];
  if (governing !== 'ata-2015' || nodule.composition === 'obscured') return false;
  return decisions.includes('undetermined') && levels?.includes('unclassified') === true;
}

/** Cautions that lie in the patient and change no needle. */
export function patientCautions(known: KnownFindings, decision: Decision): readonly CautionNote[] {
  const notes: CautionNote[] = [];
  const signs = known.dangerSigns.present;
  if (known.dangerSigns.open) notes.push(note('danger-signs-open'));
  if (signs.includes('rapid-growth') || signs.includes('stridor')) notes.push(note('airway-first'));
  if (signs.includes('breathless')) notes.push(note('breathless-not-flat'));
  if (decision === 'refer-urgent') notes.push(note('do-not-delay-referral'));
  const pulsates = known.lump.present.includes('pulsates');
  if (signs.includes('neck-nodes') && decision !== 'emergency-now' && !pulsates) notes.push(note('sample-node-too'));
  if (known.risks.present.includes('family-medullary')) notes.push(note('calcitonin-first'));
  if (isChild(known)) notes.push(note('child-under-guidance-only'));
  if (known.tsh === null) notes.push(note('tsh-unknown'));
  if (known.pregnant === 'yes') notes.push(note('no-scan-in-pregnancy'));
  if (known.pregnant === null && known.sex !== 'male' && known.tsh === 'low' && known.scan === null) {
    notes.push(note('ask-pregnancy-before-scan'));
  }
  return notes;
}

/**
 * A first referral that is an urgent one: a child with a nodule (a head and neck teaching page has it on its urgent list), and
 * a look that a system calls most suspicious and samples at this size, unless the nodule is hot (our convention). Who bleeds
 * goes where that can be treated (our convention).
 */
export function referralCautions(
  known: KnownFindings,
  { decision, because }: { readonly decision: Decision; readonly because: readonly Reason[] },
  nodules: readonly WeighedNodule[],
): readonly CautionNote[] {
  if (decision !== 'refer-first') return [];
  const place = because.includes('bleeding-disorder') ? [note('bleeding-place')] : [];
  if (because.includes('hot-nodule')) return place;
  return isChild(known) || nodules.some(isMostSuspicious) ? [note('urgent-appointment'), ...place] : place;
}

const worstLevels: readonly (readonly [PolicyId, string])[] = [
  ['acr-2017', 'TR5'],
  ['eu-2017', '5'],
  ['ata-2015', 'high'],
];

const isMostSuspicious = ({ readings }: WeighedNodule): boolean =>
  worstLevels.some(([id, level]) => {
    const { decision, levels = [] } = readings[id];
    return decision === 'sample' && levels.every((one) => one === level);
  });

/** Cautions where a needle may follow; `candidates`: what it may be for, those that cannot be sampled here too. */
export function needleCautions(
  known: KnownFindings,
  candidates: readonly Candidate[],
  inrHours: number,
): readonly CautionNote[] {
  const notes: CautionNote[] = [];
  const drugs = known.bleeding.present;
  if (known.pregnant === 'yes') notes.push(note('pregnant-timing-by-choice'));
  if (drugs.includes('warfarin') || drugs.includes('oral-anticoagulant') || drugs.includes('heparin')) {
    notes.push(note('blood-thinner-do-not-stop'));
  }
  if (mayHaveChanged(known, inrHours)) notes.push(note('inr-change-unknown', 'changedSinceInr'));
  if (drugs.includes('antiplatelet')) notes.push(note('antiplatelet-bruising'));
  if (drugs.includes('heparin') && known.platelets === null) notes.push(note('heparin-check-platelets'));
  if (waitsAfterDrip(known)) notes.push(note('iv-antiplatelet-wait'));
  if (drugs.some((drug) => drug !== 'bleeding-disorder')) notes.push(note('prescriber-decides'));
  if (hasFewPlatelets(known)) notes.push(note('platelets-prefer-referral'));
  const felt = candidates.length > 0 ? candidates.map((one) => one.felt) : [known.palpable];
  if (felt.includes(null)) notes.push(note('palpable-unknown'));
  const [first, ...others] = candidates;
  // Where the first can be sampled here, what cannot is not proposed: it is another one.
  const proposed = first?.place === 'here' ? candidates.filter(({ place }) => place === 'here') : candidates;
  const isUnfelt = candidates.length > 0 ? proposed.some((one) => one.felt === false) : known.palpable === false;
  if (isUnfelt) {
    notes.push(note(known.guidance === false ? 'impalpable-without-guidance' : 'guidance-required'));
  }
  if (first?.place === 'here' && others.some(({ place }) => place !== 'here')) {
    notes.push(note('another-under-guidance'));
  }
  return notes;
}
