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

/**
 * Minutes after the alarm at which the patient is asked about again, by what it is. Our convention, save the 1 to 2 min
 * after fainting (AHA and Red Cross first aid, presyncope, 2019). Bleeding shows at once to 2 h (Mizokami et al., AACE
 * Clin Case Rep 2018;4:134). What to do stands in the texts, held to its sources by tests/published/first-aid.test.ts.
 */
export const RECHECK_MINUTES: { readonly [event in SosEvent]: readonly number[] } = {
  faint: [2, 5],
  'bleeding-or-swelling': [5, 15, 30, 60],
  breathing: [2, 5, 10],
  'voice-change': [15, 60],
  hiccup: [15],
  'needle-stick': [60],
  other: [5, 15],
};

/** A faint that is not better after so many minutes goes to hospital (AHA and Red Cross first aid, presyncope, 2019). */
export const FAINT_BETTER_MINUTES = 2;

/** A hiccup that lasts so many hours goes to hospital. From memory. */
export const HICCUP_HOURS = 48;

/** Minutes between two looks at a patient who is the same after an alarm. Our convention. */
export const LOOK_EVERY_MINUTES = 5;
