import type { Case, Specimen } from '../../../src/case/case.ts';
import type { Entry, Recorded, Said, Walked } from '../transcript.ts';
import { targetFacts } from '../transcript.ts';

/** Something that must hold of every patient, whoever was late, wrong or silent. */
export interface Invariant {
  readonly name: string;
  /** One line for each breach; empty when it holds. */
  readonly broken: (walked: Walked) => readonly string[];
}

/** The case as it stood when each entry was written; null before it was opened. */
export function withCase(walked: Walked): readonly { readonly entry: Entry; readonly of: Case | null }[] {
  let of: Case | null = null;
  return walked.entries.map((entry) => {
    if (entry.kind === 'recorded' && entry.caseId === walked.of.id) of = entry.after;
    return { entry, of };
  });
}

/** What was recorded of the walked case. */
export function recordsOf(walked: Walked): readonly Recorded[] {
  return walked.entries.filter((one): one is Recorded => one.kind === 'recorded' && one.caseId === walked.of.id);
}

/** What was said about the walked case. */
export function saidOf(walked: Walked): readonly Said[] {
  return walked.entries.filter((one): one is Said => one.kind === 'said' && one.caseId === walked.of.id);
}

/** Whether a specimen has a side and a size. */
export function isWhole(of: Case, specimen: Specimen): boolean {
  const { side, mm } = targetFacts(of, specimen);
  return side !== null && mm.length > 0;
}

/** Answers of the record by their plain names, as they are stored. */
export function answersOf(of: Case): Readonly<Record<string, unknown>> {
  return of.answers as Readonly<Record<string, unknown>>;
}
