import type { LaboratoryStain } from './supplies.ts';

/** Ways from the wet smear to the parcel. */
export type FixationRouteId =
  | 'stay-in-alcohol'
  | 'alcohol-then-spray'
  | 'spray-only'
  | 'alcohol-then-glycerine'
  | 'dip-and-dry'
  | 'dry-on-purpose';

/** What the laboratory agreed, by name, for slides that were in alcohol; null = nothing agreed. */
export type AgreedAfterAlcohol = 'stay-in-alcohol' | 'alcohol-then-spray' | 'alcohol-then-glycerine' | 'dip-and-dry';

/** The letters pencilled on the slide: alcohol, spray, air-dried (our convention). */
export type SlideMark = 'AF' | 'SP' | 'AD';

/**
 * One route. Minutes are least times; `goodPercent` is the share of smears judged at least good (excellent alone for
 * the alcohol routes) in Safneck et al., Acta Cytol 2001;45:365-371, null where that study does not speak.
 */
export type FixationRoute = {
  readonly id: FixationRouteId;
  readonly mark: SlideMark;
  readonly alcoholMinutes: number;
  readonly dryMinutes: number;
  readonly liquidInParcel: boolean;
  readonly goodPercent: number | null;
  readonly caution: 'only-if-laboratory-agreed-most-smears-poor' | 'tell-laboratory-slides-are-dried' | null;
  readonly source: string;
};

const SAFNECK = 'Safneck et al., Acta Cytol 2001;45:365-371';

/** Every route, by name. */
export const FIXATION_ROUTES: { readonly [id in FixationRouteId]: FixationRoute } = {
  'alcohol-then-spray': {
    id: 'alcohol-then-spray',
    mark: 'AF',
    alcoholMinutes: 15,
    dryMinutes: 10,
    liquidInParcel: false,
    goodPercent: 93.2,
    caution: null,
    source: `${SAFNECK}; 15 min: IARC Atlas of breast cancer early detection, fixation; drying: common practice, no source`,
  },
  'stay-in-alcohol': {
    id: 'stay-in-alcohol',
    mark: 'AF',
    alcoholMinutes: 15,
    dryMinutes: 0,
    liquidInParcel: true,
    goodPercent: 96.6,
    caution: null,
    source: SAFNECK,
  },
  'spray-only': {
    id: 'spray-only',
    mark: 'SP',
    alcoholMinutes: 0,
    dryMinutes: 10,
    liquidInParcel: false,
    goodPercent: 91.5,
    caution: null,
    source: `${SAFNECK}, 64.4 % excellent and 27.1 % good; drying about 10 min: common practice, no source`,
  },
  'alcohol-then-glycerine': {
    id: 'alcohol-then-glycerine',
    mark: 'AF',
    alcoholMinutes: 12,
    dryMinutes: 0,
    liquidInParcel: false,
    goodPercent: null,
    caution: null,
    source: 'Manual for Cytology, Government of India and IARC screening group, p. 29',
  },
  'dip-and-dry': {
    id: 'dip-and-dry',
    mark: 'AF',
    alcoholMinutes: 0,
    dryMinutes: 5,
    liquidInParcel: false,
    goodPercent: null,
    caution: 'only-if-laboratory-agreed-most-smears-poor',
    source: `common practice, no source; ethanol, then dried: 74.6 to 83.0 % unsatisfactory or suboptimal (${SAFNECK})`,
  },
  'dry-on-purpose': {
    id: 'dry-on-purpose',
    mark: 'AD',
    alcoholMinutes: 0,
    dryMinutes: 5,
    liquidInParcel: false,
    goodPercent: null,
    caution: 'tell-laboratory-slides-are-dried',
    source: 'Shidham et al., Acta Cytol 2001;45:60; drying time: common practice, no source',
  },
};

/** Spraying: seconds and least distance in cm; common practice, no source. */
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
  if (at.stain === 'dried') return FIXATION_ROUTES['dry-on-purpose'];
  if (at.alcohol) {
    const wanted = at.agreed ?? 'stay-in-alcohol';
    return FIXATION_ROUTES[wanted === 'alcohol-then-spray' && !at.spray ? 'stay-in-alcohol' : wanted];
  }
  if (at.spray) return FIXATION_ROUTES['spray-only'];
  return at.stain === 'both' ? FIXATION_ROUTES['dry-on-purpose'] : null;
}
