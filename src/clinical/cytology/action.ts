import type { CanonicalCategory, CytologyCode } from './categories.ts';
import { canonicalOf, thyCodesOf } from './crosswalk.ts';

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
  | 'refer-after-second-non-diagnostic';

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
const DEADLINE = 'deadline: our convention';
const WEEKS_4: Deadline = { unit: 'days', notBefore: 0, latest: 28 };
const WEEKS_2: Deadline = { unit: 'days', notBefore: 0, latest: 14 };
const MONTHS_3_TO_6: Deadline = { unit: 'days', notBefore: 90, latest: 180 };

const NON_DIAGNOSTIC: CategoryAction = {
  next: 'repeat-with-ultrasound',
  deadline: WEEKS_4,
  mdt: 'no',
  acknowledge: 'routine',
  doctorAcknowledges: true,
  secondChannel: false,
  source: `repeat: omfshandbook.com, Eurocytology; ${DEADLINE}`,
};
const BENIGN: CategoryAction = {
  next: 'follow-up',
  deadline: MONTHS_3_TO_6,
  mdt: 'if-discordant',
  acknowledge: 'routine',
  doctorAcknowledges: false,
  secondChannel: false,
  source: `a second sample is no longer routine: ${BTA}; older rule 3-6 months: Eurocytology; ${DEADLINE}`,
};
const INDETERMINATE: CategoryAction = {
  next: 'repeat-and-refer',
  deadline: WEEKS_2,
  mdt: 'yes',
  acknowledge: 'this-week',
  doctorAcknowledges: true,
  secondChannel: false,
  source: `omfshandbook.com; ${BTA}; ${DEADLINE}`,
};
const SUSPICIOUS: CategoryAction = {
  next: 'refer-urgent',
  deadline: { unit: 'workdays', notBefore: 0, latest: 2 },
  mdt: 'yes',
  acknowledge: 'today',
  doctorAcknowledges: true,
  secondChannel: true,
  source: `Eurocytology, Thy classification; omfshandbook.com; ${DEADLINE}`,
};

/** The one table of actions. MDT "yes" for a first Thy3a is the safe reading of "if repeated" (BTA 2014, from memory). */
const ACTIONS: { readonly [category in CanonicalCategory | 'TIR1']: CategoryAction } = {
  Thy1: NON_DIAGNOSTIC,
  Thy1c: { ...NON_DIAGNOSTIC, next: 'look-for-residual-lump', source: `${BTA}; ${DEADLINE}` },
  'Thy1/1c': { ...NON_DIAGNOSTIC, next: 'ask-if-cyst-then-repeat' },
  TIR1: {
    ...NON_DIAGNOSTIC,
    deadline: { unit: 'days', notBefore: 30, latest: null },
    source: 'repeat after at least 1 month: Adv Med 2019:3932721, table 1',
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

/**
 * Gives what a code asks for. `earlierNonDiagnostic` counts former non-diagnostic results of this nodule: a second one is
 * referred instead of a third blind attempt (our convention).
 */
export function actionFor(code: CytologyCode, earlierNonDiagnostic = 0): CategoryAction {
  const category = canonicalOf(code);
  if (earlierNonDiagnostic > 0 && isNonDiagnostic(category)) {
    return {
      ...NON_DIAGNOSTIC,
      next: 'refer-after-second-non-diagnostic',
      deadline: WEEKS_2,
      source: 'our convention',
    };
  }
  return ACTIONS[code === 'TIR1' ? 'TIR1' : category];
}

/** Whether the category is Thy1, Thy1c or their family. */
export function isNonDiagnostic(category: CanonicalCategory): boolean {
  return thyCodesOf(category).some((code) => code === 'Thy1' || code === 'Thy1c');
}
