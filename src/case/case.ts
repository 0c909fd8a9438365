/**
 * The record of one patient's lump: everything shown is derived from the history by `evolve`.
 */
import { assertNever } from '../clinical/assert-never.ts';
import type { SlideState } from '../clinical/fixation.ts';
import type { Proposed } from '../clinical/proposed.ts';
import type { AttemptOutcome } from '../clinical/sampling.ts';
import type { Technique } from '../clinical/supplies.ts';
import type { AnswerField, AnswerKey, Answers, AnswerValue, CaseField, ItemField } from './answers.ts';
import { emptySpecimen, noCase, noResult, nothingDone } from './blank.ts';
import type { CaseEvent, CaseHappening, FiledResult, Json, KeptFluid, RejectReason, SpecimenEnd } from './events.ts';
import { type Milestone, milestoneOf } from './milestones.ts';
import { storedAs } from './stored.ts';
import { asToday } from './stored-events.ts';
import type { Target } from './target.ts';

export { noCase };

/** Where a case stands. Each status has an owner, a due time and an escalation (`duty.ts`). */
export const caseStatuses = [
  'findings',
  'decision',
  'readiness',
  'sampling',
  'labelling',
  'aftercare',
  'posting',
  'posted',
  'received',
  'action',
  'closed',
] as const;
export type CaseStatus = (typeof caseStatuses)[number];

/** On its way to a laboratory, or lying in one. */
export const laboratoryStatuses = ['posted', 'received'] as const satisfies readonly CaseStatus[];

export interface FiledAt {
  readonly result: FiledResult;
  readonly at: number;
  readonly by: string;
  readonly reason: string | null;
}

/** Answers to the advice with which the clinic takes the needle upon itself. */
const needleAgreed: ReadonlySet<Json> = new Set(['now', 'other-day']);

/** A read-back that waits for the laboratory's YES. */
export interface ReadBack {
  readonly result: FiledResult;
  readonly challenge: string;
  readonly at: number;
  readonly lapsesAt: number;
  readonly by: string;
}

/** One sampled lump or neck node with its own code, slides, result and action. */
export interface Specimen {
  readonly id: string;
  readonly target: Target;
  readonly code: string;
  readonly technique: Technique;
  readonly slidesPlanned: number;
  readonly codeChecked: boolean;
  readonly attempts: readonly AttemptOutcome[];
  /** Fluid of its attempts, in their order. */
  readonly fluids: readonly KeptFluid[];
  readonly takenAt: number | null;
  readonly fixative: 'alcohol' | 'spray' | 'air-dried' | null;
  readonly slides: readonly SlideState[];
  readonly fixedAt: number | null;
  readonly labelledAt: number | null;
  readonly postedAt: number | null;
  readonly labId: string | null;
  readonly receivedAt: number | null;
  readonly receivedSlides: number | null;
  readonly rejected: RejectReason | null;
  readonly readBack: ReadBack | null;
  /** A result whose read-back nobody answered: a late YES gets a fresh one. */
  readonly lapsed: FiledResult | null;
  readonly wrongConfirmations: number;
  readonly locked: boolean;
  readonly results: readonly FiledAt[];
  readonly thy1Reason: string | null;
  readonly acknowledgedAt: number | null;
  readonly acknowledgement: string | null;
  readonly phonedAt: number | null;
  readonly told: 'agrees' | 'refuses' | 'not-found' | null;
  readonly toldAt: number | null;
  readonly appointedOn: string | null;
  readonly seen: boolean | null;
  readonly end: SpecimenEnd | null;
}

export interface Decided {
  readonly decision: string;
  readonly policy: string;
  readonly assessment: Json;
  readonly proposed: readonly Proposed[];
  readonly at: number;
}

/**
 * Number of the fold's shape and rules. Raise it with every change of `Case` or `evolve`: stored cases are then folded
 * anew when the store opens.
 */
export const caseShape = 12;

export interface Case {
  readonly id: string;
  readonly programmeId: string;
  readonly tag: string;
  readonly siteId: string;
  /** The worker whose conversation carries it. */
  readonly ownerId: string;
  readonly practice: boolean;
  readonly earlierCaseId: string | null;
  readonly openedAt: number;
  readonly changedAt: number;
  readonly sequence: number;
  /** Latest answer by `field` or `item.field`. */
  readonly answers: Answers;
  readonly answeredAt: Readonly<Record<string, number>>;
  readonly decided: Decided | null;
  readonly specimens: readonly Specimen[];
  readonly aftercare: string | null;
  readonly aftercareAt: number | null;
  readonly notSampled: { readonly why: string; readonly reviewOn: string | null } | null;
  /** Tries to reach the patient that failed, oldest first, since the patient was last reached about the same thing. */
  readonly tries: readonly { readonly specimen: string | null; readonly at: number }[];
  readonly sos: { readonly sign: string; readonly at: number } | null;
  /** When the last alarm was declared over. */
  readonly sosOverAt: number | null;
  /** When the last alarm about the patient ended; the worker's own needle-stick is none. */
  readonly alarmAt: number | null;
  readonly frozen: string | null;
  /** When it was released last: until then nobody could go on. */
  readonly releasedAt: number | null;
  readonly closed: string | null;
  /** Instant at which the present status began. */
  readonly statusAt: number;
  readonly status: CaseStatus;
  /** What happened, oldest first, as it is told to people. */
  readonly milestones: readonly Milestone[];
  /** Reminders sent for the present duty. */
  readonly reminders: { readonly duty: string; readonly rung: number; readonly at: number } | null;
}

/** Name under which an answer is kept. */
export function answerKey(field: string, item: string | null): AnswerKey {
  return (item === null ? field : `${item}.${field}`) as AnswerKey;
}

/** The latest answer to a field, or undefined when it was never answered; of an item's field that item's. */
export function answerOf<F extends CaseField>(of: Case, field: F): AnswerValue<F> | undefined;
export function answerOf<F extends ItemField>(of: Case, field: F, item: string | null): AnswerValue<F> | undefined;
export function answerOf<F extends AnswerField>(of: Case, field: F, item: string | null = null) {
  return storedAs<AnswerValue<F>>(of.answers[answerKey(field, item)]);
}

/** The specimen with this id (`s1`) or code (`48291354`), or null. */
export function specimenOf(of: Case, idOrCode: string | null): Specimen | null {
  return of.specimens.find((one) => one.id === idOrCode || one.code === idOrCode) ?? null;
}

/** The result that counts: the newest filed one. */
export function currentResult(of: Specimen): FiledAt | null {
  return of.results.at(-1) ?? null;
}

/** Applies one record. Pure; the same history always gives the same case. */
export function evolve(before: Case, stored: CaseHappening): Case {
  const record = asToday(stored, before);
  const told = milestoneOf(record);
  const after = {
    ...applied(before, record.event, record),
    milestones: told ? [...before.milestones, told] : before.milestones,
    sequence: record.sequence,
    changedAt: record.at,
  };
  const status = statusOf(after);
  if (status === before.status) return { ...after, status };
  return { ...after, status, statusAt: record.at, reminders: null };
}

/** Folds a whole history. */
export function foldCase(id: string, programmeId: string, history: readonly CaseHappening[]): Case {
  return history.reduce(evolve, noCase(id, programmeId));
}

function applied(before: Case, event: CaseEvent, record: CaseHappening): Case {
  const change = (id: string, patch: Partial<Specimen>): Case => ({
    ...before,
    specimens: before.specimens.map((one) => (one.id === id ? { ...one, ...patch } : one)),
  });
  const at = record.at;
  switch (event.type) {
    case 'opened':
      return {
        ...before,
        tag: event.tag,
        siteId: event.siteId,
        ownerId: event.ownerId,
        practice: event.practice,
        earlierCaseId: event.earlierCaseId ?? null,
        openedAt: at,
        statusAt: at,
      };
    case 'answered': {
      const key = answerKey(event.field, event.item);
      return {
        ...before,
        answers: { ...before.answers, [key]: event.value },
        answeredAt: { ...before.answeredAt, [key]: at },
        // Sent away without a needle before, and now one is agreed on.
        notSampled: key === 'go-ahead' && needleAgreed.has(event.value) ? null : before.notSampled,
      };
    }
    case 'retagged':
      return { ...before, tag: event.tag };
    case 'linked':
      return { ...before, earlierCaseId: event.earlierCaseId };
    case 'decided':
      return {
        ...before,
        decided: {
          decision: event.decision,
          policy: event.policy,
          assessment: event.assessment,
          proposed: event.proposed,
          at,
        },
      };
    case 'code-issued': {
      const { specimen: id, target, code, technique, slides } = event;
      const issued = { ...emptySpecimen, id, target, code, technique, slidesPlanned: slides };
      // Given anew it keeps its place: the most suspicious lump stays the first.
      const isThere = before.specimens.some((one) => one.id === id);
      const specimens = isThere
        ? before.specimens.map((one) => (one.id === id ? issued : one))
        : [...before.specimens, issued];
      return { ...before, specimens };
    }
    case 'code-checked':
      return change(event.specimen, {
        codeChecked: true,
        ...(event.technique === undefined ? {} : { technique: event.technique }),
      });
    case 'needle-not-done':
      return {
        ...before,
        specimens: before.specimens.map((one) => (one.end === null ? { ...one, codeChecked: false } : one)),
      };
    case 'fluid': {
      const { attempt, ml, look, kept } = event;
      const earlier = specimenOf(before, event.specimen)?.fluids ?? [];
      return change(event.specimen, { fluids: [...earlier, { attempt, ml, look, kept }] });
    }
    case 'attempted': {
      const attempts = [...(specimenOf(before, event.specimen)?.attempts ?? []), event.outcome];
      return change(event.specimen, { attempts, takenAt: at });
    }
    case 'slides-fixed':
      return change(event.specimen, { fixative: event.fixative, slides: event.slides, fixedAt: at });
    case 'labelled':
      return change(event.specimen, { labelledAt: at });
    case 'aftercare-done':
      return { ...before, aftercare: event.outcome, aftercareAt: at };
    case 'posted':
      return {
        ...before,
        specimens: before.specimens.map((one) =>
          event.specimens.includes(one.id) ? { ...one, postedAt: at, labId: event.labId, rejected: null } : one,
        ),
      };
    case 'received': {
      // Counted again: it came when it came, and its result is due from then.
      const known = before.specimens.find((one) => one.id === event.specimen && one.rejected === null)?.receivedAt;
      return change(event.specimen, { receivedAt: known ?? at, receivedSlides: event.slides, rejected: null });
    }
    case 'rejected':
      // Glass that cannot be used has no result: what was filed of it before does not count.
      return change(event.specimen, { ...noResult, rejected: event.reason });
    case 'result-not-counted':
      return change(event.specimen, noResult);
    case 'read-back':
      return change(event.specimen, {
        readBack: {
          result: event.result,
          challenge: event.challenge,
          at,
          lapsesAt: event.lapsesAt,
          by: record.by,
        },
      });
    case 'read-back-failed':
      return change(event.specimen, {
        readBack: null,
        wrongConfirmations: (specimenOf(before, event.specimen)?.wrongConfirmations ?? 0) + 1,
      });
    case 'read-back-dropped': {
      const open = specimenOf(before, event.specimen)?.readBack?.result ?? null;
      return change(event.specimen, { readBack: null, lapsed: event.why === 'lapsed' ? open : null });
    }
    case 'results-locked':
      return change(event.specimen, { locked: true, readBack: null });
    case 'results-unlocked':
      return change(event.specimen, { locked: false, wrongConfirmations: 0 });
    case 'result-filed': {
      const filed = change(event.specimen, {
        readBack: null,
        lapsed: null,
        wrongConfirmations: 0,
        ...nothingDone,
        end: null,
        results: [
          ...(specimenOf(before, event.specimen)?.results ?? []),
          { result: event.result, at, by: record.by, reason: event.reason },
        ],
      });
      return reachedAbout(filed, event.specimen);
    }
    case 'not-reached':
      return { ...before, tries: [...before.tries, { specimen: event.specimen, at }] };
    case 'reached':
      return reachedAbout(before, event.specimen);
    case 'thy1-reason':
      return change(event.specimen, { thy1Reason: event.reason });
    case 'acknowledged':
      return change(event.specimen, { acknowledgedAt: at, acknowledgement: event.answer });
    case 'phoned':
      return change(event.specimen, { phonedAt: at });
    case 'told':
      return event.outcome === 'not-found'
        ? change(event.specimen, { told: event.outcome, toldAt: at })
        : reachedAbout(change(event.specimen, { told: event.outcome, toldAt: at }), event.specimen);
    case 'appointed':
      return change(event.specimen, { appointedOn: event.on, seen: null });
    case 'attended':
      return change(event.specimen, { seen: event.seen });
    case 'specimen-closed':
      return change(event.specimen, { end: event.end });
    case 'reopened':
      return event.specimen === null ? { ...before, closed: null } : change(event.specimen, { end: null, seen: null });
    case 'not-sampled':
      return { ...before, notSampled: { why: event.why, reviewOn: event.reviewOn } };
    case 'closed':
      return { ...before, closed: event.outcome };
    case 'sos-raised':
      return { ...before, sos: { sign: event.sign, at: before.sos?.at ?? at } };
    case 'sos-over':
      return {
        ...before,
        sos: null,
        sosOverAt: at,
        alarmAt: event.outcome === 'needle-stick-advised' ? before.alarmAt : at,
      };
    case 'frozen':
      return { ...before, frozen: event.why };
    case 'released':
      return { ...before, frozen: null, releasedAt: at };
    case 'taken-over':
      return { ...before, ownerId: event.ownerId };
    case 'reminded':
      return { ...before, reminders: { duty: event.duty, rung: event.rung, at } };
    case 'doctor-asked':
    case 'doctor-answered':
    case 'noted':
    case 'stale':
      return before;
    default:
      return assertNever(event);
  }
}

/** Tries about this specimen (null: a referral) are over. */
function reachedAbout(before: Case, specimen: string | null): Case {
  return { ...before, tries: before.tries.filter((one) => one.specimen !== specimen) };
}

/** A needle was in and nothing of it can be sent: the neck is watched all the same, and the patient needs a plan. */
function lostAll(of: Case): boolean {
  const nothingToSend = of.specimens.every(
    (one) => (one.end === 'not-usable' || one.end === 'drained') && one.postedAt === null,
  );
  return nothingToSend && of.specimens.some((one) => one.attempts.length > 0);
}

/** The earliest unfinished step decides; a case with two specimens is as far as the slower one. */
function statusOf(of: Case): CaseStatus {
  if (of.closed !== null) return 'closed';
  if (of.decided === null) return 'findings';
  if (of.specimens.length === 0) return answerOf(of, 'go-ahead') === 'now' ? 'readiness' : 'decision';
  const open = of.specimens.filter((one) => one.end === null);
  if (open.length === 0) return lostAll(of) ? (of.aftercare === null ? 'aftercare' : 'decision') : 'closed';
  if (open.some((one) => !one.codeChecked)) return 'readiness';
  if (open.some((one) => one.fixedAt === null)) return 'sampling';
  if (open.some((one) => one.labelledAt === null)) return 'labelling';
  if (of.aftercare === null) return 'aftercare';
  if (open.some((one) => one.postedAt === null)) return 'posting';
  if (open.some((one) => one.results.length === 0 && one.rejected === null && one.receivedAt === null)) return 'posted';
  if (open.some((one) => one.results.length === 0 && one.rejected === null)) return 'received';
  return 'action';
}
