import { benignReview } from './benign-review.ts';
import type { CanonicalCategory, CytologyCode } from './categories.ts';
import { canonicalOf, thyCodesOf } from './crosswalk.ts';
import { isNodeCode } from './nodes.ts';
import type { TumourType } from './result-words.ts';

/** The next thing to do for the patient. */
export type NextAction =
  | 'repeat-with-ultrasound'
  | 'look-for-residual-lump'
  | 'ask-if-cyst-then-repeat'
  | 'follow-up'
  | 'repeat-and-refer'
  | 'refer-diagnostic-surgery'
  | 'refer-urgent'
  | 'refer-urgent-by-type'
  | 'refer-after-second-non-diagnostic'
  | 'refer-after-second-atypia';

/**
 * When it is due, counted from the day of the result: not before and at the latest. `days` are calendar days, `workdays`
 * days on which the clinic works; `latest` 0 = the same day, null = no latest day published or set.
 */
export type Deadline = {
  readonly unit: 'days' | 'workdays';
  readonly notBefore: number;
  readonly latest: number | null;
};

/** How soon a doctor has to have acknowledged. */
export type AcknowledgeUrgency = 'today' | 'this-week' | 'routine';

/** What a category asks for. */
export type CategoryAction = {
  readonly next: NextAction;
  readonly deadline: Deadline;
  /** Meeting of the specialists (MDT). */
  readonly mdt: 'yes' | 'no' | 'if-discordant';
  readonly acknowledge: AcknowledgeUrgency;
  /** Whether a doctor must acknowledge even when the findings agree. */
  readonly doctorAcknowledges: boolean;
  /** Whether text alone is too little: a phone call or visit as well (ADASP survey, Arch Pathol Lab Med 2020;144:1067). */
  readonly secondChannel: boolean;
  readonly source: string;
};

const BTA = 'BTA 2014 and RCPath 2016 from memory';
/** One revision site that quotes the document of 2007: to be checked against the primary text before patients depend on it. */
const REVISION_SITE = 'omfshandbook.com, quoting the document of 2007, to be checked in the primary text';
const DEADLINE = 'deadline: our convention';
const WEEKS_4: Deadline = { unit: 'days', notBefore: 0, latest: 28 };
const WEEKS_2: Deadline = { unit: 'days', notBefore: 0, latest: 14 };

const NON_DIAGNOSTIC: CategoryAction = {
  next: 'repeat-with-ultrasound',
  deadline: WEEKS_4,
  mdt: 'no',
  acknowledge: 'routine',
  doctorAcknowledges: true,
  secondChannel: false,
  source: `repeat: Eurocytology; ${REVISION_SITE}; ${DEADLINE}`,
};
/** Its deadline is that of an unknown pattern: `benignReview` dates it by what was seen. */
const BENIGN: CategoryAction = {
  next: 'follow-up',
  deadline: benignReview([]).deadline,
  mdt: 'if-discordant',
  acknowledge: 'routine',
  doctorAcknowledges: false,
  secondChannel: false,
  source: `dated by the ultrasound pattern: ${benignReview(['low']).source}; a second sample is no longer routine: ${BTA}`,
};
const INDETERMINATE: CategoryAction = {
  next: 'repeat-and-refer',
  deadline: WEEKS_2,
  mdt: 'yes',
  acknowledge: 'this-week',
  doctorAcknowledges: true,
  secondChannel: false,
  source: `${BTA}; ${REVISION_SITE}; ${DEADLINE}`,
};
const SUSPICIOUS: CategoryAction = {
  next: 'refer-urgent',
  deadline: { unit: 'workdays', notBefore: 0, latest: 2 },
  mdt: 'yes',
  acknowledge: 'today',
  doctorAcknowledges: true,
  secondChannel: true,
  source: `Eurocytology, Thy classification; ${BTA}; ${REVISION_SITE}; ${DEADLINE}`,
};

/** The one table of actions. MDT "yes" for a first Thy3a is the safe reading of "if repeated" (BTA 2014, from memory). */
const ACTIONS: { readonly [category in CanonicalCategory | 'TIR1']: CategoryAction } = {
  Thy1: NON_DIAGNOSTIC,
  Thy1c: { ...NON_DIAGNOSTIC, next: 'look-for-residual-lump', source: `${BTA}; ${DEADLINE}` },
  'Thy1/1c': { ...NON_DIAGNOSTIC, next: 'ask-if-cyst-then-repeat' },
  TIR1: {
    ...NON_DIAGNOSTIC,
    deadline: { unit: 'days', notBefore: 31, latest: null },
    source: 'repeat after at least 1 month, 31 days at most: Adv Med 2019:3932721, table 1',
  },
  Thy2: BENIGN,
  Thy2c: BENIGN,
  'Thy2/2c': BENIGN,
  Thy3a: INDETERMINATE,
  Thy3f: { ...INDETERMINATE, next: 'refer-diagnostic-surgery' },
  Thy4: SUSPICIOUS,
  Thy5: {
    ...SUSPICIOUS,
    next: 'refer-urgent-by-type',
    deadline: { unit: 'days', notBefore: 0, latest: 0 },
  },
};

/** What is known beside the code: former results of the same lump, and what the laboratory's words name. */
export interface ResultContext {
  readonly earlierNonDiagnostic?: number;
  readonly earlierAtypia?: number;
  readonly types?: readonly TumourType[];
  /** The findings call the sampled lump solid. */
  readonly seenSolid?: boolean;
}

/**
 * Gives what a code asks for. A second non-diagnostic result of the same lump is referred instead of a third blind attempt
 * (our convention), a second Thy3a too (to the specialists' meeting: BTA 2014, from memory; more tests or lobectomy: ATA 2015 as
 * given in de Koster, thesis, p. 25). A type that the laboratory names beside a category below Thy4 is as pressing as Thy4 (our
 * convention); anaplastic and lymphoma are of the same day, beside every category (same-day specialist for a lump with noisy
 * breathing: BMJ, docslib 12903227; core biopsy at once: PMC9532007).
 */
export function actionFor(code: CytologyCode, context: ResultContext = {}): CategoryAction {
  const category = canonicalOf(code);
  const { earlierNonDiagnostic = 0, earlierAtypia = 0, types = [], seenSolid = false } = context;
  if (types.length > 0 && !isBenign(category)) {
    const sameDay = category === 'Thy5' || types.includes('anaplastic') || types.includes('lymphoma');
    return sameDay ? ACTIONS.Thy5 : { ...SUSPICIOUS, next: 'refer-urgent-by-type' };
  }
  if (earlierNonDiagnostic > 0 && isNonDiagnostic(category)) {
    return {
      ...NON_DIAGNOSTIC,
      next: 'refer-after-second-non-diagnostic',
      deadline: WEEKS_2,
      source: 'our convention',
    };
  }
  if (earlierAtypia > 0 && category === 'Thy3a') {
    return {
      ...INDETERMINATE,
      next: 'refer-after-second-atypia',
      source: `specialists' meeting: BTA 2014, from memory; de Koster, thesis, p. 25 (ATA 2015); ${DEADLINE}`,
    };
  }
  if (isCystOfSolid(category, seenSolid)) return { ...NON_DIAGNOSTIC, acknowledge: 'this-week' };
  return ACTIONS[code === 'TIR1' ? 'TIR1' : category];
}

/**
 * Cyst fluid only, of a lump that was seen solid: the needle was in something else, so that nothing is looked for that may be
 * gone, and the doctor hears that it does not fit (benign cytology that did not fit the picture was cancer in 23 %: PMC4211172;
 * what follows from it here: our convention).
 */
export function isCystOfSolid(category: CanonicalCategory, seenSolid: boolean): boolean {
  return category === 'Thy1c' && seenSolid;
}

/** Whether the category is Thy1, Thy1c or their family. */
export function isNonDiagnostic(category: CanonicalCategory): boolean {
  return thyCodesOf(category).some((code) => code === 'Thy1' || code === 'Thy1c');
}

/** Whether a stored category, of a lump or of a node, says that nobody could read the cells. */
export function isUnreadable(canonical: string): boolean {
  return isNodeCode(canonical) ? canonical === 'L1' : isNonDiagnostic(canonical as CanonicalCategory);
}

/** Whether the category is Thy2, Thy2c or their family. */
export function isBenign(category: CanonicalCategory): boolean {
  return thyCodesOf(category).some((code) => code === 'Thy2' || code === 'Thy2c');
}
