import { NEEDLE_STICK_FIRST_AID } from './needle-stick.ts';

/** The choices of an SOS, in the order they are offered. */
export const SOS_EVENTS = [
  'faint',
  'bleeding-or-swelling',
  'breathing',
  'voice-change',
  'hiccup',
  'needle-stick',
  'other',
] as const;
/** One of {@link SOS_EVENTS}. */
export type SosEvent = (typeof SOS_EVENTS)[number];

/** Everything with first aid of its own; the last two are met under `other`. */
export type AdverseEvent = SosEvent | 'tracheal-puncture' | 'infection';

/**
 * First aid for one event. `recheckMinutes` count from the alarm. Every event alerts the doctor at once; with any of
 * `escalateAtOnce` the patient goes to hospital now.
 */
export type FirstAid = {
  readonly signs: readonly string[];
  readonly steps: readonly string[];
  readonly escalateAtOnce: readonly string[];
  readonly recheckMinutes: readonly number[];
  readonly urgency: 'now';
  readonly furtherSampling: 'none-today' | 'none-this-side' | 'ask-doctor' | 'not-affected';
  readonly source: string;
};

const AIRWAY_SIGNS = [
  'growing-swelling',
  'trouble-breathing',
  'noisy-breathing',
  'cannot-swallow-saliva',
  'muffled-voice',
  'agitated-or-anxious',
  'discomfort-out-of-proportion',
  'blue-lips',
] as const;
const AIRWAY_SOURCE = 'subtle signs: Iliff et al., Anaesthesia 2022;77:82-95';

/**
 * The table of first aid. It gives no drug doses, and it does not teach opening of the skin: that drill is for surgical
 * wounds. Re-check times are our convention, save the 1 to 2 min after fainting.
 */
export const FIRST_AID: { readonly [event in AdverseEvent]: FirstAid } = {
  faint: {
    signs: ['pale', 'sweating', 'light-headed', 'seeing-dark', 'weak', 'slow-pulse'],
    steps: [
      'needle-out',
      'lie-flat',
      'legs-raised',
      'cold-compress',
      'tense-leg-muscles-if-awake',
      'write-pulse-and-pressure',
    ],
    escalateAtOnce: [
      'not-better-after-2-min',
      'worse-or-again',
      'not-waking',
      'chest-pain-or-stroke-signs',
      'seizure',
      'pulse-under-40-after-5-min',
      'systolic-under-90-after-5-min',
    ],
    recheckMinutes: [2, 5],
    urgency: 'now',
    furtherSampling: 'none-today',
    source:
      'AHA/Red Cross 2019, presyncope; thyroid FNA complications (textbook extract); pulse and pressure limits: our convention',
  },
  'bleeding-or-swelling': {
    signs: ['swelling', 'bruise', 'tight-neck', 'pain'],
    steps: ['needle-out', 'press-hard-on-point', 'sit-up', 'cold-pack', 'oxygen-if-present', 'mark-edge-with-pen'],
    escalateAtOnce: AIRWAY_SIGNS,
    recheckMinutes: [5, 15, 30, 60],
    urgency: 'now',
    furtherSampling: 'none-today',
    source: `${AIRWAY_SOURCE}; onset at once to 2 h: Mizokami et al., AACE Clin Case Rep 2018;4:134; pen mark: our convention`,
  },
  breathing: {
    signs: ['trouble-breathing', 'noisy-breathing', 'blue-lips', 'cannot-swallow-saliva'],
    steps: [
      'needle-out',
      'sit-up',
      'call-for-transport-now',
      'press-if-swelling',
      'oxygen-if-present',
      'stay-with-patient',
    ],
    escalateAtOnce: ['always', ...AIRWAY_SIGNS],
    recheckMinutes: [2, 5, 10],
    urgency: 'now',
    furtherSampling: 'none-today',
    source: `${AIRWAY_SOURCE}; order of steps: our convention`,
  },
  'voice-change': {
    signs: ['hoarse-or-double-voice', 'weak-cough', 'choking-on-drinks'],
    steps: ['stop-sampling', 'sit-up-to-drink', 'look-for-swelling', 'refer-laryngoscopy'],
    escalateAtOnce: ['noisy-breathing', 'choking', 'voice-change-with-swelling'],
    recheckMinutes: [15, 60],
    urgency: 'now',
    furtherSampling: 'none-this-side',
    source: '4 of 10,974, 1 to 2 days after, all recovered within 6 months (PMID 16889495)',
  },
  hiccup: {
    signs: ['repeated-hiccups'],
    steps: ['needle-out', 'hold-breath', 'sips-if-voice-normal', 'record-as-unexpected'],
    escalateAtOnce: ['breathless', 'chest-pain', 'over-48-hours'],
    recheckMinutes: [15],
    urgency: 'now',
    furtherSampling: 'ask-doctor',
    source: 'common practice, no source; no published case was found; first aid and 48 h from memory',
  },
  'needle-stick': {
    signs: ['worker-pricked-or-splashed'],
    steps: NEEDLE_STICK_FIRST_AID,
    escalateAtOnce: ['always'],
    recheckMinutes: [60],
    urgency: 'now',
    furtherSampling: 'not-affected',
    source: 'RCEM Learning, needlestick; WHO, HIV PEP guidelines 2024; CDC, MMWR 62 RR-10',
  },
  other: {
    signs: ['anything-unexpected'],
    steps: ['needle-out', 'press', 'stay-with-patient', 'local-emergency-protocol'],
    escalateAtOnce: ['allergy-signs', 'chest-pain', 'not-waking', 'trouble-breathing'],
    recheckMinutes: [5, 15],
    urgency: 'now',
    furtherSampling: 'ask-doctor',
    source: 'anaphylaxis, pneumothorax, clots listed as possible (Hippokratia 2011;15:116); steps: our convention',
  },
  'tracheal-puncture': {
    signs: ['cough-and-loss-of-suction', 'blood-streaked-sputum'],
    steps: ['needle-out', 'calm-patient', 'press'],
    escalateAtOnce: ['breathless', 'more-than-streaks-of-blood', 'crackling-skin'],
    recheckMinutes: [5, 15, 30],
    urgency: 'now',
    furtherSampling: 'ask-doctor',
    source: 'thyroid FNA complications (textbook extract); escalation signs from memory',
  },
  infection: {
    signs: ['fever', 'neck-pain', 'red-neck', 'growing-nodule'],
    steps: ['refer-same-day'],
    escalateAtOnce: ['fever-with-trouble-breathing', 'fever-with-trouble-swallowing'],
    recheckMinutes: [],
    urgency: 'now',
    furtherSampling: 'none-today',
    source: 'days to 3 months after: Htet et al., Case Rep Endocrinol 2020:7104806; same-day referral: our convention',
  },
};

/** Gives the first aid of an event. */
export function firstAid(event: AdverseEvent): FirstAid {
  return FIRST_AID[event];
}
