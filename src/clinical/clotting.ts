import type { FindingsField } from './findings.ts';
import type { KnownFindings } from './known.ts';
import type { Reason } from './reasons.ts';

/**
 * Most INR, and least platelets in 10^9/L, for a low-risk procedure such as this one: Patel IJ, et al. J Vasc Interv
 * Radiol 2019;30:1168 (Society of Interventional Radiology), as given in four summaries. Up to 50 platelets a site
 * without rescue prefers to refer (our convention).
 */
export const clotting = { inrMost: 3, plateletsLeast: 20, plateletsSafe: 50 } as const;

/**
 * Hours for which an INR counts: nothing is published for this needle. Scottish Dental Clinical Effectiveness Programme,
 * Management of Dental Patients Taking Anticoagulants or Antiplatelet Drugs, 2022: 24 h at best, 72 h where it is stable.
 * Taken over from there, and 24 h after a new medicine, an antibiotic or an illness: our convention.
 */
export const inrHours = { settled: 72, afterChange: 24 } as const;

/**
 * Hours to wait after a drip against platelets: 24 for abciximab (Society of Interventional Radiology 2019, as given in a
 * summary); eptifibatide and tirofiban need 4 to 8 (from memory), and get the same 24 here (our convention).
 */
export const ivAntiplateletHoursLeast = 24;

/** Whether platelets are known to be few enough for a site without rescue to prefer a referral. */
export const hasFewPlatelets = ({ platelets }: KnownFindings): boolean =>
  platelets !== null && platelets <= clotting.plateletsSafe;

/** Whether a drip against platelets was given and the hours since it are too few, or not known. */
export const waitsAfterDrip = ({ bleeding, ivAntiplateletHours }: KnownFindings): boolean =>
  bleeding.present.includes('iv-antiplatelet') &&
  (ivAntiplateletHours === null || ivAntiplateletHours < ivAntiplateletHoursLeast);

/**
 * Whether nobody knows when the INR on warfarin was measured: it may be older than an INR counts, so that it is measured again
 * like one that is not known (our convention; the source above ties every INR to its age).
 */
export const hasInrOfUnknownAge = ({ bleeding, inr, inrAgeHours }: KnownFindings): boolean =>
  bleeding.present.includes('warfarin') && inr !== null && inrAgeHours === null;

/** Whether an INR on warfarin was measured too long ago to count; an unknown age is not called too old. */
export function hasOldInr({ bleeding, inr, inrAgeHours, changedSinceInr }: KnownFindings, most: number): boolean {
  if (!bleeding.present.includes('warfarin') || inr === null || inrAgeHours === null) return false;
  return inrAgeHours > (changedSinceInr === true ? Math.min(most, inrHours.afterChange) : most);
}

/** Whether the INR on warfarin counts, but would be too old if something is new since, which nobody has said. */
export function mayHaveChanged(known: KnownFindings, most: number): boolean {
  if (known.changedSinceInr !== null || hasOldInr(known, most)) return false;
  return hasOldInr({ ...known, changedSinceInr: true }, most);
}

/** A clotting answer that forbids the needle for a hospital to see to, or null. */
export function clottingStop({ bleeding, platelets }: KnownFindings): Reason | null {
  if (bleeding.present.includes('bleeding-disorder')) return 'bleeding-disorder';
  return platelets !== null && platelets < clotting.plateletsLeast ? 'platelets-under-20' : null;
}

/** What in drugs and clotting only a doctor can pass, and which answers could still change it. `most`: hours of an INR. */
export function clottingDoubts(known: KnownFindings, most: number): [readonly Reason[], readonly FindingsField[]] {
  const { bleeding, inr } = known;
  const because: Reason[] = [];
  const missing: FindingsField[] = [];
  if (waitsAfterDrip(known)) because.push('iv-antiplatelet');
  if (inr !== null && inr > clotting.inrMost) because.push('inr-over-3');
  else if (hasOldInr(known, most)) because.push('inr-too-old');
  else if (hasInrOfUnknownAge(known)) because.push('inr-age-unknown');
  if (bleeding.present.includes('warfarin') && inr === null) because.push('inr-unknown');
  if (hasFewPlatelets(known)) because.push('platelets-20-to-50');
  if (because.includes('inr-unknown') || because.includes('inr-too-old')) missing.push('inr');
  if (because.includes('inr-age-unknown')) missing.push('inrAgeHours');
  if (waitsAfterDrip(known) && known.ivAntiplateletHours === null) missing.push('ivAntiplateletHours');
  return [because, missing];
}
