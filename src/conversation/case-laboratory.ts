/** The laboratory of a case: where its parcel went, whatever its clinic's programme says today. */
import type { Case, Specimen } from '../case/case.ts';
import { type Laboratory, laboratoryOf, type Programme } from './programme.ts';

/** Laboratories that have slides of the case or get them, by id, the last one first. */
export function laboratoryIdsWith(of: Case): readonly string[] {
  return of.specimens.flatMap((one) => (one.postedAt !== null && one.labId !== null ? [one.labId] : [])).toReversed();
}

/**
 * Where slides of the case (of all its specimens, unless said) are or are on their way to; before that, and for those that
 * are sent again, where its clinic sends.
 */
export function caseLaboratory(
  programme: Programme,
  of: Case,
  specimens: readonly Specimen[] = of.specimens,
): Laboratory {
  const away = (one: Specimen): boolean => one.postedAt !== null && one.rejected === null;
  const id = specimens.findLast(away)?.labId;
  return programme.laboratories.find((one) => one.id === id) ?? laboratoryOf(programme, of.siteId);
}
