/** What goes into a parcel and what its list says: pure, from the cases alone. */
import type { Case, Specimen } from './case.ts';
import type { KeptFluid } from './events.ts';

/** True: a needle was in, whatever came of it. */
export function needleWasIn(of: Case): boolean {
  return of.specimens.some((one) => one.attempts.length > 0);
}

/** Specimens of a case that are fixed, labelled and not yet gone. Empty before the aftercare is over or explained. */
export function readyToPost(of: Case): readonly Specimen[] {
  if (of.practice || of.aftercare === null) return [];
  return of.specimens.filter((one) => one.end === null && one.labelledAt !== null && one.postedAt === null);
}

/** Slides in the parcel: those that hold something. */
export function slidesSent(of: Specimen): number {
  return of.slides.filter((one) => one !== 'empty').length;
}

/** Fluid that goes along in a tube; what a laboratory does not take is smeared and stays behind. */
export function fluidsSent(of: Specimen): readonly KeptFluid[] {
  return of.fluids.filter((one) => one.kept !== 'none' && one.kept !== 'drained');
}

/** Fluids of which what settled was smeared: each has taken a pair of slides. */
export function fluidsSmeared(of: Specimen): readonly KeptFluid[] {
  return of.fluids.filter((one) => one.kept === 'none');
}

/** True: there is something for the laboratory, on slides or in a tube. */
export function holdsSomething(of: Specimen): boolean {
  return slidesSent(of) > 0 || fluidsSent(of).length > 0;
}

/** Slides that were smeared from attempts with blood, two an attempt, as the pencil numbers them: `1-2`. */
export function bloodySlides(of: Specimen): readonly string[] {
  const smeared = new Set(fluidsSmeared(of).map((one) => one.attempt));
  const onSlides = of.attempts.filter((one, index) => one !== 'fluid' || smeared.has(index + 1));
  return onSlides.flatMap((outcome, index) => {
    const numbers = [index * 2 + 1, index * 2 + 2].filter((one) => (of.slides[one - 1] ?? 'empty') !== 'empty');
    return outcome === 'blood' && numbers.length > 0 ? [[...new Set(numbers)].join('-')] : [];
  });
}

/** One line of a parcel's list. */
export interface ParcelLine {
  readonly caseId: string;
  readonly specimenId: string;
  readonly code: string;
  readonly slides: number;
}

/** The list of a parcel of several cases, in the order in which their codes were named. */
export function manifest(cases: readonly Case[]): readonly ParcelLine[] {
  return cases.flatMap((of) =>
    readyToPost(of).map((one) => ({ caseId: of.id, specimenId: one.id, code: one.code, slides: slidesSent(one) })),
  );
}
