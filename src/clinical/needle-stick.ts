/** HIV prophylaxis: as soon as possible, best within 24 h, not after 72 h, 28 days (WHO, HIV PEP guidelines 2024). */
export const HIV_PROPHYLAXIS_HOURS = { best: 24, last: 72 } as const;

/** Hepatitis B immune globulin: best within 24 h, benefit after 7 days unknown (CDC, MMWR 62 RR-10). */
export const HEPATITIS_B_HOURS = { best: 24, last: 168 } as const;

/**
 * First aid for a pricked finger. Soap and running water, no scrubbing, no sucking (RCEM Learning; UK Department of
 * Health); bleeding under water without squeezing suits both the UK text and WHO's (the latter from memory).
 */
export const NEEDLE_STICK_FIRST_AID = [
  'wash-soap-running-water',
  'let-bleed-do-not-squeeze',
  'do-not-scrub-or-suck',
  'rinse-eyes-or-mouth-with-water',
  'report-and-be-judged-by-another-person',
] as const;

/** One thing to do now for the worker. */
export type NeedleStickStep =
  | (typeof NEEDLE_STICK_FIRST_AID)[number]
  | 'hiv-prophylaxis-now'
  | 'late-is-worse'
  | 'hiv-prophylaxis-still-possible'
  | 'hiv-prophylaxis-window-passed'
  | 'go-now'
  | 'hepatitis-b-treatable-to-day-7'
  | 'hepatitis-b-benefit-unknown'
  | 'baseline-tests';

/** Advice by the time since the prick; always urgent. */
export type NeedleStickAdvice = {
  readonly hiv: 'now' | 'still-possible' | 'passed';
  readonly hepatitisB: 'best-time' | 'still-possible' | 'benefit-unknown';
  readonly steps: readonly NeedleStickStep[];
};

/**
 * Advises the worker so many hours after the prick. Exactly 72 h counts as still possible; an unknown, negative or
 * unreadable time counts as still possible too. The first dose does not wait for test results (from memory). Hepatitis C
 * has no prophylaxis, so baseline tests are always named (CCJM, post-exposure table).
 */
export function needleStickAdvice(hours: number | 'unknown'): NeedleStickAdvice {
  if (hours === 'unknown' || !(hours >= 0)) {
    return {
      hiv: 'still-possible',
      hepatitisB: 'still-possible',
      steps: [...NEEDLE_STICK_FIRST_AID, 'hiv-prophylaxis-still-possible', 'go-now', 'baseline-tests'],
    };
  }
  const hiv =
    hours <= HIV_PROPHYLAXIS_HOURS.best ? 'now' : hours <= HIV_PROPHYLAXIS_HOURS.last ? 'still-possible' : 'passed';
  const hepatitisB =
    hours <= HEPATITIS_B_HOURS.best
      ? 'best-time'
      : hours <= HEPATITIS_B_HOURS.last
        ? 'still-possible'
        : 'benefit-unknown';
  const steps: NeedleStickStep[] = [...NEEDLE_STICK_FIRST_AID];
  if (hiv === 'now') steps.push('hiv-prophylaxis-now', 'late-is-worse');
  else steps.push(hiv === 'passed' ? 'hiv-prophylaxis-window-passed' : 'hiv-prophylaxis-still-possible', 'go-now');
  if (hiv === 'passed') {
    steps.push(hepatitisB === 'benefit-unknown' ? 'hepatitis-b-benefit-unknown' : 'hepatitis-b-treatable-to-day-7');
  }
  steps.push('baseline-tests');
  return { hiv, hepatitisB, steps };
}
