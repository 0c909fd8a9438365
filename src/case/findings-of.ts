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

const plainFields = ['risks', 'bleeding', 'tsh', 'scan'] as const;
const numbers = ['inr', 'inrAgeHours', 'platelets', 'ivAntiplateletHours'] as const;

/** The three questions that together ask for danger signs; `asked.` and the name is true once one has been answered. */
export const signQuestions = ['breathing', 'story', 'lump'] as const;
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
const noduleTruths = ['spongiformWhole', 'eccentric'] as const;

/** Ids of the nodules that were measured, largest first as they were sent. */
export function nodulesOf(of: Case): readonly string[] {
  return stringsOf(answerOf(of, 'nodules')) ?? [];
}

/**
 * Everything answered so far; what was not asked stays absent, which counts as unknown. Somebody who turns eighteen in
 * this year counts as seventeen: a child is never taken for an adult (our convention).
 */
export function findingsOf(of: Case, site: SiteFacts): Findings {
  const found: Record<string, unknown> = {};
  put(found, 'dangerSigns', dangerSignsOf(of));
  put(found, 'lump', lumpOf(of));
  for (const field of plainFields) put(found, field, answerOf(of, field));
  put(found, 'overactiveSigns', truth(answerOf(of, 'overactiveSigns')));
  put(found, 'examined', truth(answerOf(of, 'examined')));
  for (const field of numbers) put(found, field, numberOrUnknown(answerOf(of, field)));
  put(found, 'changedSinceInr', truth(answerOf(of, 'changedSinceInr')));
  const felt = feltSidesOf(of);
  const ids = nodulesOf(of);
  if (felt !== null) found.palpable = felt.length > 0;
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

/** The signs said, and "unknown" beside them while one of the three questions is open: nobody who was not asked says no. */
function dangerSignsOf(of: Case): readonly string[] | undefined {
  const answered = signQuestions.filter((one) => answerOf(of, `asked.${one}`) === true);
  const said = stringsOf(answerOf(of, 'dangerSigns'));
  // A case from before the three questions has one answer, which stands as it was given.
  if (answered.length === 0) return said ?? undefined;
  const present = (said ?? []).filter((one) => one !== 'unknown');
  const isOpen = answered.length < signQuestions.length || said?.includes('unknown') === true;
  return isOpen ? [...present, 'unknown'] : present;
}

function lumpOf(of: Case): readonly string[] | undefined {
  const said = stringsOf(answerOf(of, 'lump'));
  if (said !== null || answerOf(of, 'asked.lump') !== true) return said ?? undefined;
  return stringsOf(answerOf(of, 'dangerSigns'))?.includes('unknown') === true ? ['unknown'] : [];
}

/** Sides on which a lump was felt; null where that was not asked. */
function feltSidesOf(of: Case): readonly string[] | null {
  return stringsOf(answerOf(of, 'felt'));
}

/**
 * Whether this lump is felt: as answered of itself, else by its side where it lies there alone. Which of two lumps of one
 * side was felt, the side cannot tell.
 */
function feltOf(of: Case, id: string): boolean | 'unknown' | undefined {
  const own = truth(answerOf(of, 'palpable', id));
  const felt = feltSidesOf(of);
  const side = answerOf(of, 'site', id);
  if (own !== undefined || felt === null || typeof side !== 'string') return own;
  if (!felt.includes(side)) return false;
  return nodulesOf(of).some((other) => other !== id && answerOf(of, 'site', other) === side) ? undefined : true;
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
  put(nodule, 'palpable', feltOf(of, id));
  for (const field of noduleFields) put(nodule, field, answerOf(of, field, id));
  for (const field of noduleTruths) put(nodule, field, truth(answerOf(of, field, id)));
  // No question asks for a dark part: that nobody named one does not make it absent.
  if (truth(answerOf(of, 'hypoechoicPart', id)) === true) nodule.hypoechoicPart = true;
  put(nodule, 'earlierMm', earlierOf(of, id)?.mm);
  put(nodule, 'solidPartMm', numberOrUnknown(answerOf(of, 'solidPartMm', id)));
  return nodule as Nodule;
}

function put(into: Record<string, unknown>, field: string, value: unknown): void {
  if (value !== undefined && value !== null) into[field] = value;
}

/** A list of names as it was stored, or null where there is none. */
function stringsOf(value: unknown): readonly string[] | null {
  return Array.isArray(value) ? value.filter((one): one is string => typeof one === 'string') : null;
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
