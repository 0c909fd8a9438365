/** How many needles a lump may have, and how they are counted. */
import { answerOf, type Specimen } from '../../case/case.ts';
import { SLIDES_PER_ATTEMPT } from '../../clinical/sampling.ts';
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

/** Slides in use: those planned, and a pair for every try beyond them. */
export function slidesInUse(specimen: Specimen): number {
  return Math.max(specimen.slidesPlanned, specimen.attempts.length * SLIDES_PER_ATTEMPT);
}

/** The number of the next needle in this patient: it goes on from lump to lump, so that no late reply fits twice. */
export function nextNumber(moment: Moment): number {
  return moment.case!.specimens.reduce((sum, one) => sum + one.attempts.length, 0) + 1;
}

/** True when ultrasound guides the needle here: the machine was used for this lump and the site can use it meanwhile. */
export function guided(moment: Moment): boolean {
  const { sites } = moment.world.programme;
  const site = sites.find((one) => one.id === moment.case?.siteId) ?? sites[0];
  return answerOf(moment.case!, 'ultrasound.done') === true && site?.guidance === true;
}
