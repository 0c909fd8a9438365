/** How the slides travel. */
export type ParcelContent = 'dry-coated' | 'dried-unfixed' | 'in-alcohol';

/** What is known of hepatitis, HIV, tuberculosis or another infection of the patient. */
export type InfectionRisk = 'none-known' | 'known-or-suspected' | 'unknown';

/** The one marking of the outer pack; `ask-first` until somebody has judged the risk. */
export type ParcelMark = 'exempt-human-specimen' | 'un3373-category-b' | 'ask-first';

/** One thing to do, write or check about the parcel. */
export type ParcelStep =
  | 'leak-proof-first-and-second-pack'
  | 'rigid-outer-one-side-100-mm'
  | 'absorbent-paper'
  | 'lid-taped-upright'
  | 'flammable-liquid-check-volume'
  | 'slides-apart-rigid-box'
  | 'diamond-50-mm-un3373'
  | 'words-biological-substance-category-b'
  | 'sender-name-address-phone'
  | 'coated-slides-have-no-liquid'
  | 'judge-infection-risk'
  | 'check-local-transport-rules';

/** Alcohol of class 3 in one vessel that a Category B parcel may hold, ml (from memory, packing instruction P650). */
export const MOST_ALCOHOL_ML_PER_VESSEL = 30;

/**
 * Suggests a marking, exempt or UN3373, never both (our convention), always to be checked against local rules. Exempt
 * needs minimal likelihood of pathogens and somebody's judgement (Cornell EHS, exempt specimens); a known or suspected
 * infection is Category B; UN3373 diamond of 50 mm with its words (Malaysian MKAKB handbook, P650). Ethanol is a class 3
 * liquid. No source names fixed slides: the suggestion for them is our convention.
 */
export function suggestMarking(parcel: { readonly content: ParcelContent; readonly infection: InfectionRisk }): {
  readonly mark: ParcelMark;
  readonly steps: readonly ParcelStep[];
} {
  const steps: ParcelStep[] = ['slides-apart-rigid-box', 'leak-proof-first-and-second-pack'];
  if (parcel.content === 'in-alcohol') {
    steps.push('lid-taped-upright', 'absorbent-paper', 'flammable-liquid-check-volume');
  }
  if (parcel.content === 'dry-coated') steps.push('coated-slides-have-no-liquid');
  steps.push('rigid-outer-one-side-100-mm', 'sender-name-address-phone');
  const mark = markFor(parcel.infection);
  if (mark === 'un3373-category-b') steps.push('diamond-50-mm-un3373', 'words-biological-substance-category-b');
  if (mark === 'ask-first') steps.push('judge-infection-risk');
  steps.push('check-local-transport-rules');
  return { mark, steps };
}

function markFor(infection: InfectionRisk): ParcelMark {
  if (infection === 'known-or-suspected') return 'un3373-category-b';
  return infection === 'none-known' ? 'exempt-human-specimen' : 'ask-first';
}
