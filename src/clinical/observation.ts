/** Firm pressure on the puncture, minutes; our convention (a leaflet asks 15, China Medical University Hospital). */
export const PRESS_MINUTES = { least: 5, most: 10 } as const;

/** Minutes from one look at neck, voice and breathing to the next, during the watch. Our convention. */
export const WATCH_LOOK_MINUTES = 10;

/** Why a patient is watched for the longer time. */
export type WatchReason =
  | 'blood-seen'
  | 'cystic'
  | 'inside-unknown'
  | 'large'
  | 'over-three-passes'
  | 'thick-needle'
  | 'blood-thinner'
  | 'bleeding-unknown'
  | 'bleeding-disorder'
  | 'high-pressure';

/**
 * Largest diameter in mm from which a lump is watched longer. Larger lumps, thicker needles and men bled more often (Kwon, Iran J
 * Radiol 2018); the cut is our convention.
 */
export const LARGE_LUMP_MM = 40;

/** `unknown` counts as present and is told as not known, save for a pressure that nobody measured (`not-measured`): it is never said to be normal. */
export type WatchRisks = {
  readonly bloodSeen: boolean | 'unknown';
  readonly cystic: boolean | 'unknown';
  /** Largest diameter, mm. */
  readonly largestMm: number;
  readonly passes: number;
  /** Only needles of 22 G were at hand. */
  readonly thickNeedle: boolean;
  readonly bloodThinner: boolean | 'unknown';
  readonly bleedingDisorder: boolean | 'unknown';
  readonly highPressure: boolean | 'not-measured';
};

/**
 * Says how long neck, voice and breath are watched: the short time, or the long one with a risk; how many minutes each is
 * stands in the programme. Our convention: of 10 acute swellings 7
 * showed within 15 min and 3 after 1 to 2 h (Mizokami et al., AACE Clin Case Rep 2018;4:134), so the warning to take home
 * stays necessary. Cysts and more passes bleed more; blood thinners were not significant (Kwon, Iran J Radiol 2018).
 */
export function watchLength(risks: WatchRisks): {
  readonly length: 'short' | 'long';
  readonly because: readonly WatchReason[];
} {
  const because: WatchReason[] = [];
  if (risks.bloodSeen !== false) because.push('blood-seen');
  if (risks.cystic === true) because.push('cystic');
  if (risks.cystic === 'unknown') because.push('inside-unknown');
  if (!(risks.largestMm < LARGE_LUMP_MM)) because.push('large');
  if (!(risks.passes <= 3)) because.push('over-three-passes');
  if (risks.thickNeedle) because.push('thick-needle');
  if (risks.bloodThinner === true) because.push('blood-thinner');
  if (risks.bleedingDisorder === true) because.push('bleeding-disorder');
  if (risks.bloodThinner === 'unknown' || risks.bleedingDisorder === 'unknown') because.push('bleeding-unknown');
  if (risks.highPressure === true) because.push('high-pressure');
  return { length: because.length > 0 ? 'long' : 'short', because };
}
