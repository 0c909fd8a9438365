/** Firm pressure on the puncture, minutes; our convention (a leaflet asks 15, China Medical University Hospital). */
export const PRESS_MINUTES = { least: 5, most: 10 } as const;

/**
 * Hours for which the going-home warning holds; our convention. Bleeds showed at home after 2 h (Am J Otolaryngol
 * 2005;26:398), 4 h (BMC Surg 2021, s12893-021-01184-5) and 2 days (Am J Med Sci 2022).
 */
export const RETURN_WARNING_HOURS = 48;

/** Hours without heavy lifting or straining: 24 (South Georgia Radiology) to 72 (China Medical University Hospital). */
export const NO_STRAINING_HOURS = { least: 24, most: 72 } as const;

/** Why a patient is watched for the longer time. */
export type WatchReason =
  | 'blood-seen'
  | 'cystic'
  | 'over-three-passes'
  | 'blood-thinner'
  | 'bleeding-disorder'
  | 'high-pressure';

/** `unknown` counts as present, save for a pressure that nobody measured (`not-measured`): it is never said to be normal. */
export type WatchRisks = {
  readonly bloodSeen: boolean | 'unknown';
  readonly cystic: boolean | 'unknown';
  readonly passes: number;
  readonly bloodThinner: boolean | 'unknown';
  readonly bleedingDisorder: boolean | 'unknown';
  readonly highPressure: boolean | 'not-measured';
};

/**
 * Gives the minutes to watch neck, voice and breath: 30, or 60 with a risk. Our convention: of 10 acute swellings 7
 * showed within 15 min and 3 after 1 to 2 h (Mizokami et al., AACE Clin Case Rep 2018;4:134), so the warning to take home
 * stays necessary. Cysts and more passes bleed more; blood thinners were not significant (Kwon, Iran J Radiol 2018).
 */
export function watchMinutes(risks: WatchRisks): {
  readonly minutes: 30 | 60;
  readonly because: readonly WatchReason[];
} {
  const because: WatchReason[] = [];
  if (risks.bloodSeen !== false) because.push('blood-seen');
  if (risks.cystic !== false) because.push('cystic');
  if (!(risks.passes <= 3)) because.push('over-three-passes');
  if (risks.bloodThinner !== false) because.push('blood-thinner');
  if (risks.bleedingDisorder !== false) because.push('bleeding-disorder');
  if (risks.highPressure === true) because.push('high-pressure');
  return { minutes: because.length > 0 ? 60 : 30, because };
}
