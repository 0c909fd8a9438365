/**
 * Firm pressure on the puncture, minutes; our convention (a leaflet asks 15, China Medical University Hospital). Check: Lee,
 * Korean J Radiol 2015;16:391, a consensus on needles under ultrasound, publishes pressing; its figure was not at hand.
 */
export const PRESS_MINUTES = { least: 5, most: 10 } as const;

/** The same for who bleeds longer, minutes: a leaflet asks 30 on a blood thinner (China Medical University Hospital); the span is our convention. */
export const PRESS_LONG_MINUTES = { least: 15, most: 30 } as const;

/** Minutes from one look at neck, voice and breathing to the next, during the watch. Our convention. */
export const WATCH_LOOK_MINUTES = 10;

/** Largest diameter, mm, from which the watch is longer: larger nodules bled more (Kwon, 2018); the cut is our convention. */
export const LARGE_FROM_MM = 40;

/**
 * Why a patient is watched for the longer time. What ends in `-unknown` is not known and counts as present: it is never told
 * as though it had been seen.
 */
export type WatchReason = (typeof knownReasons)[number] | `${(typeof openReasons)[number]}-unknown`;

/** In the order in which they are told. */
const knownReasons = [
  'blood-seen',
  'cystic',
  'over-three-passes',
  'blood-thinner',
  'bleeding-disorder',
  'high-pressure',
  'large',
  'thick-needle',
] as const;
const openReasons = ['blood-seen', 'cystic', 'blood-thinner', 'bleeding-disorder', 'large', 'thick-needle'] as const;

/** `unknown` counts as present, save for a pressure that nobody measured (`not-measured`): it is never said to be normal. */
export type WatchRisks = {
  readonly bloodSeen: boolean | 'unknown';
  readonly cystic: boolean | 'unknown';
  readonly passes: number;
  readonly bloodThinner: boolean | 'unknown';
  readonly bleedingDisorder: boolean | 'unknown';
  readonly highPressure: boolean | 'not-measured';
  /** Largest diameter of what was sampled, mm. */
  readonly largestMm: number | 'unknown';
  /** Whether a needle of the noted gauge was used. */
  readonly thickNeedle: boolean | 'unknown';
};

/**
 * Says how long neck, voice and breath are watched: the short time, or the long one with a risk; how many minutes each is
 * stands in the programme. Our convention: of 10 acute swellings 7
 * showed within 15 min and 3 after 1 to 2 h (Mizokami et al., AACE Clin Case Rep 2018;4:134), so the warning to take home
 * stays necessary. Cysts, larger nodules, thicker needles and more passes bleed more; blood thinners were not significant
 * (Kwon, Iran J Radiol 2018;15:e57231). Reasons that are known come first.
 */
export function watchLength(risks: WatchRisks): {
  readonly length: 'short' | 'long';
  readonly because: readonly WatchReason[];
} {
  const large = risks.largestMm === 'unknown' ? 'unknown' : risks.largestMm >= LARGE_FROM_MM;
  const told: { readonly [R in (typeof knownReasons)[number]]: boolean | 'unknown' } = {
    'blood-seen': risks.bloodSeen,
    cystic: risks.cystic,
    'over-three-passes': !(risks.passes <= 3),
    'blood-thinner': risks.bloodThinner,
    'bleeding-disorder': risks.bleedingDisorder,
    'high-pressure': risks.highPressure === true,
    large,
    'thick-needle': risks.thickNeedle,
  };
  const known = knownReasons.filter((one) => told[one] === true);
  const open = openReasons.filter((one) => told[one] === 'unknown').map((one) => `${one}-unknown` as const);
  const because: readonly WatchReason[] = [...known, ...open];
  return { length: because.length > 0 ? 'long' : 'short', because };
}
