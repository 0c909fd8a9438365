/**
 * What may follow what. Refused is only what would make the record say something false of a patient's sample; what says
 * the same again, asks, notes, hands over, or is about an alarm may always happen. Our convention, except where said.
 */
import { assertNever } from '../clinical/assert-never.ts';
import { type Case, type Specimen, specimenOf } from './case.ts';
import type { CaseEvent } from './events.ts';

/** Why an event cannot have happened to a case. */
export type WhyNot =
  | 'opened-already'
  | 'not-opened'
  | 'case-closed'
  | 'no-such-specimen'
  | 'specimen-over'
  | 'needle-was-in'
  | 'code-not-checked'
  | 'attempt-out-of-order'
  | 'no-attempt'
  | 'no-size'
  | 'not-fixed'
  | 'not-labelled'
  | 'neck-not-watched'
  | 'not-posted'
  | 'posted-already'
  | 'results-locked'
  | 'nothing-read-back'
  | 'amends-nothing'
  | 'no-result'
  | 'has-result';

/** Null: the event may be recorded. Pure. */
export function mayHappen(of: Case, event: CaseEvent): WhyNot | null {
  if (event.type === 'opened') return of.sequence === 0 ? null : 'opened-already';
  if (of.sequence === 0) return 'not-opened';
  switch (event.type) {
    case 'code-issued':
      if (of.closed !== null) return 'case-closed';
      if (event.target.mm.length === 0) return 'no-size';
      return (specimenOf(of, event.specimen)?.attempts.length ?? 0) > 0 ? 'needle-was-in' : null;
    case 'aftercare-done':
      return of.specimens.some((one) => one.attempts.length > 0) ? null : 'no-attempt';
    case 'posted':
      if (of.closed !== null) return 'case-closed';
      if (of.aftercare === null) return 'neck-not-watched';
      return firstOf(event.specimens.map((id) => about(of, id, unpostable)));
    case 'code-checked':
      return about(of, event.specimen, () => null);
    case 'attempted':
      if (of.closed !== null) return 'case-closed';
      return about(of, event.specimen, (one) => {
        if (one.end !== null) return 'specimen-over';
        if (one.postedAt !== null) return 'posted-already';
        if (!one.codeChecked) return 'code-not-checked';
        return event.attempt === one.attempts.length + 1 ? null : 'attempt-out-of-order';
      });
    case 'fluid':
      return about(of, event.specimen, (one) => (one.attempts[event.attempt - 1] === 'fluid' ? null : 'no-attempt'));
    case 'needle-not-done':
      return of.specimens.some((one) => one.attempts.length > 0) ? 'needle-was-in' : null;
    case 'slides-fixed':
      return about(of, event.specimen, (one) => (one.attempts.length === 0 ? 'no-attempt' : null));
    case 'labelled':
      return about(of, event.specimen, (one) => (one.fixedAt === null ? 'not-fixed' : null));
    case 'received':
      return about(of, event.specimen, unposted);
    // A result is said not to count before its glass is: nobody loses one by a word about glass.
    case 'rejected':
      return about(of, event.specimen, (one) => unposted(one) ?? (one.results.length > 0 ? 'has-result' : null));
    case 'read-back':
      return about(of, event.specimen, (one) => unposted(one) ?? (one.locked ? 'results-locked' : null));
    case 'read-back-failed':
    case 'read-back-dropped':
      return about(of, event.specimen, unread);
    case 'result-filed':
      return about(of, event.specimen, (one) => {
        const before = one.results.length === 0 ? null : one.results.length - 1;
        return unposted(one) ?? unread(one) ?? (event.amends === before ? null : 'amends-nothing');
      });
    case 'results-locked':
    case 'results-unlocked':
    case 'result-not-counted':
      return about(of, event.specimen, unposted);
    case 'thy1-reason':
    case 'acknowledged':
    case 'phoned':
    case 'told':
    case 'appointed':
    case 'attended':
      return about(of, event.specimen, (one) => (one.results.length === 0 ? 'no-result' : null));
    case 'specimen-closed':
      return about(of, event.specimen, () => null);
    case 'not-reached':
    case 'reached':
    case 'reopened':
      return event.specimen === null ? null : about(of, event.specimen, () => null);
    case 'answered':
    case 'retagged':
    case 'linked':
    case 'decided':
    case 'not-sampled':
    case 'closed':
    case 'sos-raised':
    case 'sos-over':
    case 'doctor-asked':
    case 'doctor-answered':
    case 'frozen':
    case 'released':
    case 'taken-over':
    case 'reminded':
    case 'noted':
    case 'stale':
      return null;
    default:
      return assertNever(event);
  }
}

function about(of: Case, id: string, why: (specimen: Specimen) => WhyNot | null): WhyNot | null {
  const specimen = of.specimens.find((one) => one.id === id);
  return specimen ? why(specimen) : 'no-such-specimen';
}

function unpostable(one: Specimen): WhyNot | null {
  if (one.end !== null) return 'specimen-over';
  return one.labelledAt === null ? 'not-labelled' : null;
}

function unposted(one: Specimen): WhyNot | null {
  return one.postedAt === null ? 'not-posted' : null;
}

/** Nothing is filed, dropped or failed without a read-back that the laboratory was sent. */
function unread(one: Specimen): WhyNot | null {
  return one.readBack === null ? 'nothing-read-back' : null;
}

function firstOf(whys: readonly (WhyNot | null)[]): WhyNot | null {
  return whys.find((one) => one !== null) ?? null;
}
