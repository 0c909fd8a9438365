import type { LaboratoryStain } from './supplies.ts';

/**
 * Ways from the wet smear to the parcel. Of smears coated after alcohol 93.2 % were excellent, of those left in it 96.6 %,
 * of those only sprayed 91.5 % at least good; dipped and dried, 74.6 to 83.0 % were unsatisfactory or suboptimal (Safneck
 * et al., Acta Cytol 2001;45:365-371). Glycerine after alcohol: Manual for Cytology, Government of India and IARC
 * screening group, p. 29. Dried on purpose: Shidham et al., Acta Cytol 2001;45:60.
 */
export type FixationRoute =
  | 'stay-in-alcohol'
  | 'alcohol-then-spray'
  | 'spray-only'
  | 'alcohol-then-glycerine'
  | 'dip-and-dry'
  | 'dry-on-purpose';

/** What the laboratory agreed, by name, for slides that were in alcohol; null = nothing agreed. */
export type AgreedAfterAlcohol = 'stay-in-alcohol' | 'alcohol-then-spray' | 'alcohol-then-glycerine' | 'dip-and-dry';

/** Spraying: seconds and least distance in cm; common practice, no source. Check: WHO's guide to cervical cancer control names a distance. */
export const SPRAY = { leastSeconds: 3, mostSeconds: 4, leastDistanceCm: 25 } as const;

/**
 * Chooses the route for the fixative at hand. Alcohol stays alcohol until the laboratory, unless it agreed otherwise by
 * name and what that needs is there; dip-and-dry is never chosen without that agreement. Null: no route, sampling stops.
 */
export function chooseFixationRoute(at: {
  readonly alcohol: boolean;
  readonly spray: boolean;
  readonly stain: LaboratoryStain;
  readonly agreed: AgreedAfterAlcohol | null;
}): FixationRoute | null {
  if (at.stain === 'dried') return 'dry-on-purpose';
  if (at.alcohol) {
    const wanted = at.agreed ?? 'stay-in-alcohol';
    return wanted === 'alcohol-then-spray' && !at.spray ? 'stay-in-alcohol' : wanted;
  }
  if (at.spray) return 'spray-only';
  return at.stain === 'both' ? 'dry-on-purpose' : null;
}
