import { hasKnownSuspiciousFeature, readPolicy } from './completions.ts';
import type { FindingsField } from './findings.ts';
import { hasFewPlatelets, isChild, waitsAfterDrip } from './gates.ts';
import { growthOf } from './growth.ts';
import type { KnownFindings, KnownNodule } from './known.ts';
import { type PolicyId, policyIds } from './policies/policy.ts';
import type { Caution, Decision } from './reasons.ts';
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

/** The size at which the systems part (`>` against `>=`), and a step to either side of it. */
export const partingMm = { at: 10, below: 9.9, above: 10.1 } as const;

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
  if (hasHigherRisk(known) && nodules.some(({ outcome }) => outcome === 'follow-up' || outcome === 'no-sampling')) {
    notes.push(note('higher-risk-smaller-size-allowed'));
  }
  if (nodules.length > mostNodules.weighed) notes.push(note('more-than-four-nodules'));
  return notes;
}

/** Exactly 10.0 mm where some policy samples here or just above: measure again. */
function isExactlyAtParting(nodule: KnownNodule): boolean {
  if (nodule.size?.least !== partingMm.at || nodule.size.most !== partingMm.at) return false;
  return policyIds.some((id) => {
    const at = (mm: number) => readPolicy(id, { ...nodule, size: { least: mm, most: mm } }).decisions;
    const [below, here, above] = [at(partingMm.below), at(partingMm.at), at(partingMm.above)];
    return (here.includes('sample') || above.includes('sample')) && !below.includes('sample');
  });
}

/**
 * Features that cannot be true together: a cyst or sponge with a suspicious feature, a black inside that is not fluid, a
 * solid part larger than its nodule. Our convention.
 */
function contradictionsIn(nodule: KnownNodule): readonly FindingsField[] {
  const { composition, echogenicity, solidPartMm, size } = nodule;
  const fields: FindingsField[] = [];
  if ((composition === 'cystic' || composition === 'spongiform') && hasKnownSuspiciousFeature(nodule)) {
    fields.push('composition');
  }
  if ((composition === 'mixed' || composition === 'solid') && echogenicity === 'anechoic') {
    fields.push('composition', 'echogenicity');
  }
  if (solidPartMm !== null && size !== null && solidPartMm > size.most) fields.push('solidPartMm', 'mm');
  return fields;
}

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

/** Cautions that lie in the patient. `needle`: whether a needle may follow. */
export function patientCautions(known: KnownFindings, decision: Decision, needle: boolean): readonly CautionNote[] {
  const notes: CautionNote[] = [];
  const signs = known.dangerSigns.present;
  if (known.dangerSigns.open) notes.push(note('danger-signs-open'));
  if (signs.includes('rapid-growth') || signs.includes('stridor')) notes.push(note('airway-first'));
  if (decision === 'refer-urgent') notes.push(note('do-not-delay-referral'));
  if (signs.includes('neck-nodes') && decision !== 'emergency-now') notes.push(note('sample-node-too'));
  if (known.risks.present.includes('family-medullary')) notes.push(note('calcitonin-first'));
  if (isChild(known)) notes.push(note('child-under-guidance-only'));
  if (known.tsh === null) notes.push(note('tsh-unknown'));
  if (known.pregnant === 'yes') notes.push(note('no-scan-in-pregnancy'));
  if (known.pregnant === null && known.sex !== 'male' && known.tsh === 'low' && known.scan === null) {
    notes.push(note('ask-pregnancy-before-scan'));
  }
  return needle ? [...notes, ...needleCautions(known)] : notes;
}

function needleCautions(known: KnownFindings): readonly CautionNote[] {
  const notes: CautionNote[] = [];
  const drugs = known.bleeding.present;
  if (known.pregnant === 'yes') notes.push(note('pregnant-timing-by-choice'));
  if (drugs.includes('warfarin') || drugs.includes('oral-anticoagulant') || drugs.includes('heparin')) {
    notes.push(note('blood-thinner-do-not-stop'));
  }
  if (drugs.includes('antiplatelet')) notes.push(note('antiplatelet-bruising'));
  if (drugs.includes('heparin') && known.platelets === null) notes.push(note('heparin-check-platelets'));
  if (waitsAfterDrip(known)) notes.push(note('iv-antiplatelet-wait'));
  if (drugs.some((drug) => drug !== 'bleeding-disorder')) notes.push(note('prescriber-decides'));
  if (hasFewPlatelets(known)) notes.push(note('platelets-prefer-referral'));
  if (known.palpable === null) notes.push(note('palpable-unknown'));
  if (known.palpable === false) notes.push(note('guidance-required'));
  if (known.palpable === false && known.guidance === false) notes.push(note('impalpable-without-guidance'));
  return notes;
}
