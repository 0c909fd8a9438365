/*
 * What is looked at on the patient who lies ready. Each of these is a stop until it is put right or a doctor has spoken.
 */

/** Something on the day that stands between a patient and the needle. */
export type Hindrance =
  /** An alarm about this patient earlier in the day (our convention, needs a clinician's sign-off). */
  | 'alarm-today'
  /** A lump for a needle without ultrasound beside it, of which nobody can tell whether it beats: the great vessels lie here. */
  | 'pulse-unknown'
  /** Infected or broken skin over the path: treated first (general practice, from memory). */
  | 'sore-skin'
  /** Blood pressure from `HIGH_PRESSURE` on, still so after rest. */
  | 'high-pressure';

/**
 * Blood pressure in mmHg from which a patient rests and is measured again: either figure. Grade 2 hypertension of the
 * European guidelines, from memory. That it matters: one case with 164/94 before and a large bleed after, among the case
 * reports of bleeding (Am J Otolaryngol 2005;26:398, BMC Surg 2021, Am J Med Sci 2022). The cut is our convention. Not measured is not normal: nothing is concluded from it.
 */
export const HIGH_PRESSURE = { systolic: 160, diastolic: 100 } as const;

/** Minutes of sitting quietly before a high pressure is measured again. Our convention. */
export const REST_MINUTES = 15;
