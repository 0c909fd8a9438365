import { PASSES, SLIDES_PER_ATTEMPT } from './sampling.ts';

/**
 * What a site can have at hand. `fine-needles`: two or more of 23 to 27 G; `needle-22`: 22 G; `slides-many`: four or
 * more; `slides-few`: two or three; `alcohol-lidded`: 95 % ethanol in a lidded jar; `weak-alcohol`: 70 % or hand gel,
 * which is no fixative.
 */
export const SUPPLIES = [
  'syringe',
  'holder',
  'fine-needles',
  'needle-22',
  'slides-many',
  'slides-few',
  'alcohol-lidded',
  'spray',
  'helper',
  'improvised-holder',
  'weak-alcohol',
] as const;
/** One of {@link SUPPLIES}. */
export type Supply = (typeof SUPPLIES)[number];

/** How many needles and slides a word stands for, as long as nobody counted. Our convention; three slides are the floor in
 * common practice. */
export const AT_HAND = { fineNeedles: 2, notedNeedles: 1, manySlides: 4, fewSlides: 2 } as const;

/** Which slides the laboratory stains: `wet` never dried (Papanicolaou), `dried` at once and on purpose (Giemsa). */
export const laboratoryStains = ['wet', 'dried', 'both'] as const;
export type LaboratoryStain = (typeof laboratoryStains)[number];

/** Ways of sampling; `second-operator` = a helper pulls and releases the plunger. */
export const techniques = ['capillary', 'holder', 'second-operator', 'improvised-holder'] as const;
export type Technique = (typeof techniques)[number];

/** What makes sampling impossible here and now. */
export type SupplyStop = 'no-syringe' | 'no-needle' | 'no-slides' | 'no-fixative' | 'no-suction';

/** A caution or hint to be said with the outcome. */
export type SupplyNote =
  | 'capillary-is-as-good'
  | 'gauge-22-bleeds-more'
  | 'three-slides-or-more-are-better'
  | 'weak-alcohol-is-no-fixative'
  | 'coat-with-spray-after-alcohol'
  | 'dry-fast-on-purpose'
  | 'dried-only-tell-laboratory'
  | 'improvised-holder-is-local-practice'
  | 'needle-holder-orders-release'
  | 'mixed-prefers-syringe'
  | 'needles-not-counted';

/** What is at hand; counts, where somebody counted, replace the guess from the words. */
export type SuppliesAtHand = {
  readonly has: readonly Supply[];
  readonly stain: LaboratoryStain;
  readonly needleCount?: number;
  readonly slideCount?: number;
  /** Part of the lump is fluid: a technique with a syringe on the needle comes first. */
  readonly fluidInside?: boolean;
  /** A cyst is emptied: nothing does that without a syringe on the needle. */
  readonly drain?: boolean;
  /** Attempts that the programme allows; 2 to 5, more counts as 5. */
  readonly policyLimit?: number;
};

/** `techniques` best first; `attempts` is how many these supplies surely allow. */
export type SupplyJudgement =
  | {
      readonly ok: true;
      readonly technique: Technique;
      readonly techniques: readonly Technique[];
      readonly attempts: number;
      readonly fixative: 'alcohol' | 'spray' | 'none';
      readonly slides: 'all-wet' | 'all-dried' | 'one-of-each-pair-dried';
      readonly notes: readonly SupplyNote[];
    }
  | { readonly ok: false; readonly stops: readonly SupplyStop[]; readonly notes: readonly SupplyNote[] };

/**
 * Judges whether and how this site can sample now. Without a holder capillary sampling comes first: non-diagnostic
 * risk 0.57 of that with suction (0.34-0.92) in 20 studies (Thyroid 2018, PMID 29742978); an earlier pooling of 16
 * studies found no difference (BioMed Res Int 2015:796120). Then a second operator, then an improvised holder (common
 * practice, no source). With fluid inside a syringe on the needle comes first: it empties the fluid too (our convention). No fixative stops, unless the laboratory stains dried slides. A syringe is needed by every
 * technique, since air expels the sample.
 */
export function judgeSupplies(at: SuppliesAtHand): SupplyJudgement {
  const has = new Set(at.has);
  const slideCount =
    at.slideCount ?? (has.has('slides-many') ? AT_HAND.manySlides : has.has('slides-few') ? AT_HAND.fewSlides : 0);
  const needleCount =
    at.needleCount ?? (has.has('fine-needles') ? AT_HAND.fineNeedles : has.has('needle-22') ? AT_HAND.notedNeedles : 0);
  const fixative = has.has('alcohol-lidded') ? 'alcohol' : has.has('spray') ? 'spray' : 'none';

  const stops: SupplyStop[] = [];
  if (!has.has('syringe')) stops.push('no-syringe');
  if (needleCount < 1 || !(has.has('fine-needles') || has.has('needle-22'))) stops.push('no-needle');
  if (slideCount < SLIDES_PER_ATTEMPT) stops.push('no-slides');
  if (fixative === 'none' && at.stain === 'wet') stops.push('no-fixative');
  const possible = possibleTechniques(has, at.fluidInside === true).filter((one) => !at.drain || one !== 'capillary');
  if (possible.length === 0) stops.push('no-suction');
  if (stops.length > 0) {
    const weak = stops.includes('no-fixative') || has.has('weak-alcohol');
    return { ok: false, stops, notes: weak ? ['weak-alcohol-is-no-fixative'] : [] };
  }

  const pairs = Math.floor(slideCount / SLIDES_PER_ATTEMPT);
  return {
    ok: true,
    technique: possible[0] ?? 'capillary',
    techniques: possible,
    attempts: Math.min(needleCount, pairs, at.policyLimit ?? PASSES.most, PASSES.most),
    fixative: at.stain === 'dried' ? 'none' : fixative,
    slides:
      at.stain === 'dried' || fixative === 'none'
        ? 'all-dried'
        : at.stain === 'both'
          ? 'one-of-each-pair-dried'
          : 'all-wet',
    notes: notesFor(at, has, fixative, slideCount),
  };
}

function possibleTechniques(has: ReadonlySet<Supply>, fluidInside: boolean): readonly Technique[] {
  const found: Technique[] = has.has('holder') ? ['holder', 'capillary'] : ['capillary'];
  if (has.has('helper')) found.push('second-operator');
  if (has.has('improvised-holder') && !has.has('holder')) found.push('improvised-holder');
  if (!fluidInside) return found;
  return [...found.filter((one) => one !== 'capillary'), 'capillary'];
}

function notesFor(
  at: SuppliesAtHand,
  has: ReadonlySet<Supply>,
  fixative: 'alcohol' | 'spray' | 'none',
  slideCount: number,
): readonly SupplyNote[] {
  const notes: SupplyNote[] = [];
  if (!has.has('holder')) notes.push('capillary-is-as-good');
  if (at.fluidInside) notes.push('mixed-prefers-syringe');
  if (!has.has('fine-needles')) notes.push('gauge-22-bleeds-more');
  if (!has.has('fine-needles') && at.needleCount === undefined) notes.push('needles-not-counted');
  if (slideCount < AT_HAND.manySlides) notes.push('three-slides-or-more-are-better');
  if (has.has('weak-alcohol')) notes.push('weak-alcohol-is-no-fixative');
  if (fixative === 'alcohol' && has.has('spray') && at.stain !== 'dried') notes.push('coat-with-spray-after-alcohol');
  if (at.stain !== 'wet') notes.push('dry-fast-on-purpose');
  if (at.stain === 'both' && fixative === 'none') notes.push('dried-only-tell-laboratory');
  if (has.has('improvised-holder') && !has.has('holder')) notes.push('improvised-holder-is-local-practice');
  if (has.has('helper')) notes.push('needle-holder-orders-release');
  return notes;
}
