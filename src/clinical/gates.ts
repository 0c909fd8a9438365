import type { DangerSign, FindingsField } from './findings.ts';
import type { KnownFindings } from './known.ts';
import type { Decision, Reason } from './reasons.ts';

/*
 * What stands before any score, in this order. The score never lowers an urgency. A gate either stops the case, or is
 * passed, or is open: nobody has asked, and the case may not go on to a needle as though the answer were no.
 */

/** A gate that stops: the decision, why, and which answers could still change it. */
export interface Stop {
  readonly kind: 'stop';
  readonly decision: Decision;
  readonly because: readonly Reason[];
  readonly missing: readonly FindingsField[];
}

/** A gate that nobody has asked about. */
export interface Open {
  readonly kind: 'open';
  readonly because: Reason;
  readonly missing: readonly FindingsField[];
}

export type GateResult = { readonly kind: 'pass' } | Stop | Open;

/** `needle`: whether the score leaves a needle possible; only then do drugs and clotting matter. */
export type Gate = (known: KnownFindings, needle: boolean) => GateResult;

const pass = { kind: 'pass' } as const;
const stop = (decision: Decision, because: readonly Reason[], missing: readonly FindingsField[] = []): Stop => ({
  kind: 'stop',
  decision,
  because,
  missing,
});
const open = (because: Reason, ...missing: FindingsField[]): Open => ({ kind: 'open', because, missing });

/** Age in years from which the adult sizes apply. Francis GL, et al. Thyroid 2015;25:716 (children). */
export const adultFromYears = 18;

/** Whether the patient is known to be a child, for whom every needle goes under ultrasound guidance. */
export const isChild = ({ ageYears }: KnownFindings): boolean => ageYears !== null && ageYears < adultFromYears;

/** Whether platelets are known to be few enough for a site without rescue to prefer a referral. */
export const hasFewPlatelets = ({ platelets }: KnownFindings): boolean =>
  platelets !== null && platelets <= clotting.plateletsSafe;

/** Week after which a low TSH is no longer put down to pregnancy itself. Haugen, Thyroid 2016;26:1, pocket guide. */
export const pregnancyTshSettledAfterWeeks = 16;

/**
 * Most INR, and least platelets in 10^9/L, for a low-risk procedure such as this one: Patel IJ, et al. J Vasc Interv
 * Radiol 2019;30:1168 (Society of Interventional Radiology), as given in four summaries. Up to 50 platelets a site
 * without rescue prefers to refer (our convention).
 */
export const clotting = { inrMost: 3, plateletsLeast: 20, plateletsSafe: 50 } as const;

/**
 * Hours to wait after a drip against platelets: 24 for abciximab (Society of Interventional Radiology 2019, as given in a
 * summary); eptifibatide and tirofiban need 4 to 8 (from memory), and get the same 24 here (our convention).
 */
export const ivAntiplateletHoursLeast = 24;

/** Whether a drip against platelets was given and the hours since it are too few, or not known. */
export const waitsAfterDrip = ({ bleeding, ivAntiplateletHours }: KnownFindings): boolean =>
  bleeding.present.includes('iv-antiplatelet') &&
  (ivAntiplateletHours === null || ivAntiplateletHours < ivAntiplateletHoursLeast);

/** Noisy breathing with a thyroid swelling: emergency at once. British Thyroid Foundation; Cancer Council Australia. */
export const dangerSignsGate: Gate = ({ dangerSigns }) => {
  const signs = dangerSigns.present;
  if (signs.includes('stridor')) return stop('emergency-now', ['stridor']);
  if (signs.length > 0)
    return stop(
      'refer-urgent',
      urgentSigns.filter((sign) => signs.includes(sign)),
      asked(dangerSigns.open),
    );
  return dangerSigns.open ? open('danger-signs-unknown', 'dangerSigns') : pass;
};

const asked = (isOpen: boolean): FindingsField[] => (isOpen ? ['dangerSigns'] : []);

/**
 * Signs for an urgent referral: British Thyroid Foundation, referral times; Head and neck teaching page, thyroid lump
 * referral. A hard or fixed lump and trouble swallowing without noisy breathing count too (our convention).
 */
const urgentSigns = [
  'rapid-growth',
  'breathless',
  'voice-change',
  'neck-nodes',
  'hard-or-fixed',
  'hard',
  'fixed',
  'swallowing',
] as const;

/** Under 18 the adult sizes do not hold. Francis GL, et al. Thyroid 2015;25:716. */
const childGate: Gate = (known) => {
  if (known.ageYears === null) return open('age-unknown', 'patient.ageYears');
  return isChild(known) ? stop('refer-first', ['child']) : pass;
};

/** Medullary cancer or MEN 2 in the family: no score alone. Tessler, J Am Coll Radiol 2017;14:587, groups left out. */
const specialRiskGate: Gate = ({ risks }) => {
  if (risks.present.includes('family-medullary')) return stop('refer-first', ['family-medullary']);
  return risks.open ? open('risks-unknown', 'risks') : pass;
};

/** Examination and ultrasound are both needed before a needle is named (common practice, no source). */
export const mandatoryStepsGate: Gate = ({ examined, ultrasoundDone, nodules }) => {
  const because: Reason[] = [];
  const missing: FindingsField[] = [];
  if (examined !== true) {
    because.push('not-examined');
    missing.push('examined');
  }
  if (ultrasoundDone !== true) {
    because.push('no-ultrasound');
    missing.push('ultrasound.done');
  } else if (nodules === null) {
    because.push('nodules-not-described');
    missing.push('nodules');
  }
  return because.length > 0 ? stop('examine-first', because, missing) : pass;
};

/**
 * The one exception to ultrasound first: where there is none, these signs on examination may indicate a needle in a
 * lump that is felt. Zafereo M, et al. Head Neck 2020, doi 10.1002/hed.26094 (African Head and Neck Society).
 */
const signsWithoutUltrasound: readonly DangerSign[] = [
  'rapid-growth',
  'hard-or-fixed',
  'hard',
  'fixed',
  'neck-nodes',
  'voice-change',
];

/** Whether the exception without ultrasound holds: examined, felt, no ultrasound to be had, and a sign of its list. */
export function allowsWithoutUltrasound(known: KnownFindings): boolean {
  return (
    known.examined === true &&
    known.palpable === true &&
    known.ultrasoundDone === false &&
    known.dangerSigns.present.some((sign) => signsWithoutUltrasound.includes(sign))
  );
}

/**
 * TSH before the needle. Haugen, Thyroid 2016;26:1, recommendation 2: low TSH -> scan; a hot nodule is not sampled. No
 * TSH to be had: clinical signs of an overactive thyroid stand in (Zafereo, Head Neck 2020). Pregnant: no scan ever;
 * a low TSH is repeated after 16 weeks (Alexander EK, et al. Thyroid 2017;27:315).
 */
const tshGate: Gate = (known) => {
  const { tsh, scan, pregnant, pregnantWeeks, overactiveSigns } = known;
  if (scan === 'hot') return stop('refer-first', ['hot-nodule']);
  if (tsh === 'normal' || tsh === 'high') return pass;
  if (tsh === null) {
    if (overactiveSigns === null) return open('tsh-unknown', 'tsh', 'overactiveSigns');
    if (!overactiveSigns || scan === 'not-hot') return pass;
    return stop('refer-first', ['overactive-without-tsh'], ['tsh', 'scan']);
  }
  if (pregnant === 'yes') {
    if (isLatePregnancy(known)) return pass;
    return stop(
      'ask-doctor',
      ['low-tsh-early-pregnancy'],
      pregnantWeeks === null ? ['patient.pregnantWeeks'] : ['tsh'],
    );
  }
  if (scan === 'not-hot') return pass;
  const mayBePregnant = pregnant === null && known.sex !== 'male';
  return stop('refer-first', ['low-tsh-without-scan'], mayBePregnant ? ['patient.pregnant', 'scan'] : ['scan']);
};

/** Whether a low TSH in pregnancy lets sampling wait until after birth and breast-feeding: beyond 16 weeks. */
export function isLatePregnancy({ pregnant, pregnantWeeks }: KnownFindings): boolean {
  return pregnant === 'yes' && (pregnantWeeks ?? 0) > pregnancyTshSettledAfterWeeks;
}

/**
 * Bleeding disorder: referred (our convention for a site without rescue). Platelets, INR on warfarin, and the drugs
 * given into a vein, with the hours since, are weighed only when a needle is possible; no other drug is stopped. Society of Interventional
 * Radiology, J Vasc Interv Radiol 2019;30:1168. What to do about a drug is the prescriber's to say (our convention).
 */
const contraindicationsGate: Gate = (known, needle) => {
  const { bleeding, inr, platelets } = known;
  const items = bleeding.present;
  if (items.includes('bleeding-disorder')) return stop('refer-first', ['bleeding-disorder']);
  if (!needle) return pass;
  if (platelets !== null && platelets < clotting.plateletsLeast) return stop('refer-first', ['platelets-under-20']);
  const because: Reason[] = [];
  if (waitsAfterDrip(known)) because.push('iv-antiplatelet');
  if (inr !== null && inr > clotting.inrMost) because.push('inr-over-3');
  if (items.includes('warfarin') && inr === null) because.push('inr-unknown');
  if (hasFewPlatelets(known)) because.push('platelets-20-to-50');
  const missing: FindingsField[] = because.includes('inr-unknown') ? ['inr'] : [];
  if (waitsAfterDrip(known) && known.ivAntiplateletHours === null) missing.push('ivAntiplateletHours');
  if (because.length > 0) return stop('ask-doctor', because, missing);
  return bleeding.open ? open('bleeding-unknown', 'bleeding') : pass;
};

/** What must be passed before a score, in order, once the danger signs are seen to. */
export const gatesBeforeScore: readonly Gate[] = [
  childGate,
  specialRiskGate,
  mandatoryStepsGate,
  tshGate,
  contraindicationsGate,
];
