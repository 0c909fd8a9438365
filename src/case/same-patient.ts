/** Which cases of one site could be of one and the same patient. */

import { answerOf, type Case } from './case.ts';

/** What two cases of one patient have in common for sure; practice and an unknown patient have none. */
export interface PatientKey {
  readonly siteId: string;
  readonly initials: string;
  readonly sex: string;
}

/** Null for practice, which meets no patient, and where initials or sex are not known. */
export function patientKeyOf(of: Case): PatientKey | null {
  const initials = answerOf(of, 'patient.initials');
  const sex = answerOf(of, 'patient.sex');
  if (of.practice || typeof initials !== 'string' || typeof sex !== 'string') return null;
  return { siteId: of.siteId, initials, sex };
}

/**
 * Same site, initials, sex and birth year; where one of the two knows an age only, it may be out by a year (our
 * convention). `yearAt` gives the year of an instant at the site. Unknown ages are never the same.
 */
export function couldBeSamePatient(one: Case, other: Case, yearAt: (at: number) => number): boolean {
  const [mine, theirs] = [patientKeyOf(one), patientKeyOf(other)];
  if (!mine || !theirs || mine.siteId !== theirs.siteId) return false;
  if (mine.initials !== theirs.initials || mine.sex !== theirs.sex) return false;
  const [here, there] = [bornIn(one, yearAt), bornIn(other, yearAt)];
  if (!here || !there) return false;
  return Math.abs(here.year - there.year) <= (here.exact && there.exact ? 0 : 1);
}

function bornIn(of: Case, yearAt: (at: number) => number): { readonly year: number; readonly exact: boolean } | null {
  const born = answerOf(of, 'patient.birthYear');
  if (typeof born === 'number') return { year: born, exact: true };
  const age = answerOf(of, 'patient.ageYears');
  if (typeof age !== 'number') return null;
  return { year: yearAt(of.answeredAt['patient.ageYears'] ?? of.openedAt) - age, exact: false };
}

/** A case that could be of the same patient, as the worker is asked about it (answer `alike`): code and day alone. */
export interface AlikeCase {
  readonly caseId: string;
  /** Null before one was issued. */
  readonly code: string | null;
  /** Day of that examination, `2030-03-04`. */
  readonly on: string;
}

/** The cases that the worker was asked about or that are left open by the answer, the one asked about first. */
export function alikeCases(of: Case): readonly AlikeCase[] {
  return answerOf(of, 'alike') ?? [];
}
