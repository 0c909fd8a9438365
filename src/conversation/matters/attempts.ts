/** How many needles a lump may have, and how they are counted. */
import type { Specimen } from '../../case/case.ts';
import { fluidsSmeared } from '../../case/parcel.ts';
import { pairsUsed, SLIDES_PER_ATTEMPT } from '../../clinical/sampling.ts';
import type { Moment } from '../moment.ts';
import { limitOf } from '../programme.ts';
import { aimsNow, suppliesNow } from './ready.ts';

/** Attempts that the programme, the slides and the needles allow for the specimen without asking the doctor. */
export function attemptsAllowed(moment: Moment, specimen: Specimen): number {
  const judged = suppliesNow(moment);
  const bySupplies = judged.ok ? Math.max(1, Math.floor(judged.attempts / aimsNow(moment).length)) : 1;
  const bySlides = Math.floor(specimen.slidesPlanned / SLIDES_PER_ATTEMPT);
  return Math.min(limitOf(moment.world.programme, 'passes'), bySlides, bySupplies);
}

/** Slides that the needles of this specimen have filled. */
export function slidesFilled(specimen: Specimen): number {
  return pairsUsed(specimen.attempts, fluidsSmeared(specimen).length) * SLIDES_PER_ATTEMPT;
}

/** Slides in use: those planned, and a pair for every try beyond them. */
export function slidesInUse(specimen: Specimen): number {
  return Math.max(specimen.slidesPlanned, slidesFilled(specimen));
}

/** The number of the next needle into this specimen; with several in one sitting its letter stands in front. */
export function nextNumber(moment: Moment): number {
  return (moment.specimen?.attempts.length ?? 0) + 1;
}
