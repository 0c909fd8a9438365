/** Cases of one patient: found by a keyed hash, so that nobody reads initials from a column. */
import type { PatientKey } from '../case/same-patient.ts';
import type { Loaded } from '../line/ports.ts';
import type { Context } from './context.ts';
import { patientMark } from './keys.ts';
import { openCases } from './open-cases.ts';
import { all, type Steps } from './statement.ts';

/** Open and closed cases of the site with these initials and this sex, newest first; erased ones are left out. */
export function* casesAlike(context: Context, programmeId: string, key: PatientKey): Steps<Loaded['cases']> {
  const rows = yield* all(context.hot.casesAlike, { patient_mark: patientMark(context.ring, programmeId, key) });
  return yield* openCases(context, rows);
}

/** Cases that follow one of these. */
export function* casesAfter(context: Context, ids: readonly string[]): Steps<Loaded['cases']> {
  if (ids.length === 0) return [];
  const rows = yield* all(context.hot.casesAfter, { ids: JSON.stringify(ids) });
  return yield* openCases(context, rows);
}
