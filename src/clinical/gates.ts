import { clottingDoubts, clottingStop } from './clotting.ts';
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

/** What a gate has to know besides the findings. */
export interface Situation {
  /** Whether a needle is in question; only then do drugs and clotting matter. */
  readonly needle: boolean;
  /** Hours for which an INR counts where nothing is new. */
  readonly inrHours: number;
}

export type Gate = (known: KnownFindings, situation: Situation) => GateResult;

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

/** Week after which a low TSH is no longer put down to pregnancy itself. Haugen, Thyroid 2016;26:1, pocket guide. */
export const pregnancyTshSettledAfterWeeks = 16;

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

/**
 * What no further step can change, said before any step is asked for. A hot nodule is not sampled (Haugen, Thyroid
 * 2016;26:1, recommendation 2). A lump that pulsates is never punctured: a carotid body tumour can look like a thyroid one,
 * and a needle in it is contraindicated (PMC4204595). Bleeding disorder, platelets, INR: see `clotting`. A lump that moves
 * with the tongue may be no thyroid nodule, and is the doctor's (our convention).
 */
const knownStopsGate: Gate = (known, { needle, inrHours }) => {
  if (known.scan === 'hot') return stop('refer-first', ['hot-nodule']);
  if (known.lump.present.includes('pulsates')) return stop('refer-first', ['pulsates']);
  const clot = needle ? clottingStop(known) : null;
  if (clot !== null) return stop('refer-first', [clot]);
  const [doubts, missing] = clottingDoubts(known, inrHours);
  if (needle && doubts.includes('inr-over-3')) return stop('ask-doctor', doubts, missing);
  return known.lump.present.includes('moves-with-tongue') ? stop('ask-doctor', ['moves-with-tongue']) : pass;
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
    isSomethingFelt(known) &&
    known.ultrasoundDone === false &&
    known.dangerSigns.present.some((sign) => signsWithoutUltrasound.includes(sign))
  );
}

const isSomethingFelt = ({ palpable, nodules }: KnownFindings): boolean =>
  palpable === true || (nodules ?? []).some((nodule) => nodule.palpable === true);

/**
 * TSH before the needle. Haugen, Thyroid 2016;26:1, recommendation 2: low TSH -> scan; a hot nodule is not sampled. No
 * TSH to be had: clinical signs of an overactive thyroid stand in (Zafereo, Head Neck 2020). Pregnant: no scan ever;
 * a low TSH is repeated after 16 weeks (Alexander EK, et al. Thyroid 2017;27:315).
 */
const tshGate: Gate = (known) => {
  const { tsh, scan, pregnant, pregnantWeeks, overactiveSigns } = known;
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
 * What is open of drugs and clotting, weighed only when a needle is in question: INR on warfarin and its age, few
 * platelets, drugs given into a vein. No other drug is stopped: Society of Interventional Radiology, J Vasc Interv Radiol
 * 2019;30:1168. What to do about a drug is the prescriber's to say (our convention).
 */
const contraindicationsGate: Gate = (known, { needle, inrHours }) => {
  if (!needle) return pass;
  const [because, missing] = clottingDoubts(known, inrHours);
  if (because.length > 0) return stop('ask-doctor', because, missing);
  return known.bleeding.open ? open('bleeding-unknown', 'bleeding') : pass;
};

/** What must be passed before a score, in order, once the danger signs are seen to. */
export const gatesBeforeScore: readonly Gate[] = [
  childGate,
  specialRiskGate,
  knownStopsGate,
  mandatoryStepsGate,
  tshGate,
  contraindicationsGate,
];
