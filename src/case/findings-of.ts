/** The findings of a case in the form that the clinical rules read. */
import type { Findings, Nodule } from '../clinical/findings.ts';
import { answerOf, type Case } from './case.ts';
import { earlierOf } from './earlier.ts';
import type { Json } from './events.ts';

/** What the site adds to what was asked: whether a needle can be guided by ultrasound there. */
export interface SiteFacts {
  readonly guidance: boolean;
  /** Year at the site, for ages from a birth year. */
  readonly year: number;
}

const plainFields = ['dangerSigns', 'risks', 'bleeding', 'tsh', 'scan'] as const;
const noduleFields = [
  'site',
  'mm',
  'mmRange',
  'composition',
  'echogenicity',
  'shape',
  'margin',
  'capsule',
  'foci',
] as const;
const noduleTruths = ['spongiformWhole', 'eccentric', 'hypoechoicPart'] as const;

/** Ids of the nodules that were measured, largest first as they were sent. */
export function nodulesOf(of: Case): readonly string[] {
  const ids = answerOf(of, 'nodules');
  return Array.isArray(ids) ? ids.filter((one): one is string => typeof one === 'string') : [];
}

/**
 * Everything answered so far; what was not asked stays absent, which counts as unknown. Somebody who turns eighteen in
 * this year counts as seventeen: a child is never taken for an adult (our convention).
 */
export function findingsOf(of: Case, site: SiteFacts): Findings {
  const found: Record<string, unknown> = {};
  for (const field of plainFields) put(found, field, answerOf(of, field));
  put(found, 'overactiveSigns', truth(answerOf(of, 'overactiveSigns')));
  put(found, 'examined', truth(answerOf(of, 'examined')));
  put(found, 'inr', numberOrUnknown(answerOf(of, 'inr')));
  put(found, 'platelets', numberOrUnknown(answerOf(of, 'platelets')));
  put(found, 'ivAntiplateletHours', numberOrUnknown(answerOf(of, 'ivAntiplateletHours')));
  const felt = answerOf(of, 'felt');
  const ids = nodulesOf(of);
  if (Array.isArray(felt)) {
    const firstSite = ids[0] === undefined ? undefined : answerOf(of, 'site', ids[0]);
    found.palpable = typeof firstSite === 'string' ? felt.includes(firstSite) : felt.length > 0;
  } else put(found, 'palpable', truth(answerOf(of, 'palpable')));
  const patient = patientOf(of, site.year);
  if (Object.keys(patient).length > 0) found.patient = patient;
  const ultrasound: Record<string, unknown> = {};
  put(ultrasound, 'done', truth(answerOf(of, 'ultrasound.done')));
  put(ultrasound, 'probe', answerOf(of, 'ultrasound.probe'));
  put(ultrasound, 'standoff', truth(answerOf(of, 'ultrasound.standoff')));
  put(ultrasound, 'mhz', numberOrUnknown(answerOf(of, 'ultrasound.mhz')));
  if (Object.keys(ultrasound).length > 0) found.ultrasound = ultrasound;
  // A needle is guided only where there is ultrasound at all.
  if (ultrasound.done === true) found.guidance = site.guidance;
  if (ultrasound.done === false) found.guidance = false;
  // Looked, and none was there: not the same as nobody having looked.
  if (Array.isArray(answerOf(of, 'nodules'))) found.nodules = ids.map((id) => noduleOf(of, id));
  return found as Findings;
}

function patientOf(of: Case, year: number): Record<string, unknown> {
  const patient: Record<string, unknown> = {};
  const born = answerOf(of, 'patient.birthYear');
  const age = answerOf(of, 'patient.ageYears');
  if (typeof born === 'number') {
    const turns = year - born;
    patient.ageYears = turns === 18 ? 17 : turns;
  } else if (typeof age === 'number') patient.ageYears = age;
  put(patient, 'sex', answerOf(of, 'patient.sex'));
  put(patient, 'pregnant', answerOf(of, 'patient.pregnant'));
  put(patient, 'pregnantWeeks', numberOrUnknown(answerOf(of, 'patient.pregnantWeeks')));
  return patient;
}

function noduleOf(of: Case, id: string): Nodule {
  const nodule: Record<string, unknown> = { id };
  for (const field of noduleFields) put(nodule, field, answerOf(of, field, id));
  for (const field of noduleTruths) put(nodule, field, truth(answerOf(of, field, id)));
  put(nodule, 'earlierMm', earlierOf(of, id)?.mm);
  put(nodule, 'solidPartMm', numberOrUnknown(answerOf(of, 'solidPartMm', id)));
  return nodule as Nodule;
}

function put(into: Record<string, unknown>, field: string, value: unknown): void {
  if (value !== undefined && value !== null) into[field] = value;
}

/** Yes or no as a question recorded it, or true or false as the one-message form did. */
export function truth(value: Json | undefined): boolean | 'unknown' | undefined {
  if (value === true || value === 'yes') return true;
  if (value === false || value === 'no') return false;
  return value === 'unknown' ? 'unknown' : undefined;
}

function numberOrUnknown(value: Json | undefined): number | 'unknown' | undefined {
  return typeof value === 'number' || value === 'unknown' ? value : undefined;
}
