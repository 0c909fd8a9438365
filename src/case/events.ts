/**
 * What can happen to a case. The history is append-only: a correction or an amended result is a new event
 * that names what it replaces; nothing is ever rewritten.
 */
import type { SystemName } from '../clinical/cytology/categories.ts';
import type { NodeInfection, TumourType } from '../clinical/cytology/result-words.ts';
import type { SlideState } from '../clinical/fixation.ts';
import type { FluidLook, FluidWay } from '../clinical/fluid.ts';
import type { Proposed } from '../clinical/proposed.ts';
import type { AttemptOutcome } from '../clinical/sampling.ts';
import type { Technique } from '../clinical/supplies.ts';
import type { Target } from './target.ts';

/** A value as JSON can hold it. */
export type Json = string | number | boolean | null | readonly Json[] | { readonly [key: string]: Json };

/** Why a laboratory cannot use a specimen as it came. */
export type RejectReason = 'no-name' | 'not-the-same' | 'broken' | 'leaked-or-dried' | 'missing';

/** A cytology result as the laboratory said it and as the line understood it. */
export interface FiledResult {
  /** The words as sent, e.g. `Bethesda IV`. */
  readonly said: string;
  readonly system: SystemName | 'Sydney';
  /** Category as its own system writes it, e.g. `Bethesda IV`; of a lymph node `L2`. */
  readonly code: string;
  /** Thy category, or a family where the crosswalk is one-to-many (`Thy1/1c`). A node's is its code: it is never converted. */
  readonly canonical: string;
  /** Free words that followed the category. */
  readonly words: string;
  /** Types of tumour that the words name and that steer the advice, the most pressing first. Absent = none. */
  readonly types?: readonly TumourType[];
  /** Infections of a lymph node that they name. Absent = none. */
  readonly infections?: readonly NodeInfection[];
}

/** Fluid of one attempt, ml; `kept`: what it is kept in (`drained`: in nothing, the cyst was only emptied), as the laboratory said or as long as nobody has asked it. */
export interface KeptFluid {
  readonly attempt: number;
  readonly ml: number;
  readonly look: FluidLook;
  readonly kept: FluidWay | 'culture' | 'drained';
}

/** How one specimen ended. */
export type SpecimenEnd =
  | 'attended'
  | 'reviewed'
  | 'repeat-booked'
  | 'repeat-declined'
  | 'refused'
  | 'not-found'
  | 'not-usable'
  | 'drained'
  | 'not-posted';

export type CaseEvent =
  | {
      readonly type: 'opened';
      readonly tag: string;
      readonly siteId: string;
      readonly ownerId: string;
      readonly practice: boolean;
      readonly earlierCaseId?: string;
    }
  /** An answer of a guided conversation. A later answer to the same field and item replaces it. */
  | { readonly type: 'answered'; readonly field: string; readonly item: string | null; readonly value: Json }
  | { readonly type: 'retagged'; readonly tag: string }
  /** The patient is the one of an earlier case; null: is not, after all. */
  | { readonly type: 'linked'; readonly earlierCaseId: string | null }
  | {
      readonly type: 'decided';
      readonly decision: string;
      readonly policy: string;
      /** The whole assessment as `assess` prints it, for the doctor and for audit. */
      readonly assessment: Json;
      /** What is proposed for a needle, most suspicious first, at most two. */
      readonly proposed: readonly Proposed[];
    }
  | {
      readonly type: 'code-issued';
      readonly specimen: string;
      readonly target: Target;
      readonly code: string;
      readonly technique: Technique;
      readonly slides: number;
    }
  /** `technique`: the way of sampling, where it is another one than when the code was issued. */
  | { readonly type: 'code-checked'; readonly specimen: string; readonly technique?: Technique }
  /** No needle went in after all: the slides wait with their codes, which are read again before the next try. */
  | { readonly type: 'needle-not-done' }
  | {
      readonly type: 'attempted';
      readonly specimen: string;
      readonly attempt: number;
      readonly outcome: AttemptOutcome;
    }
  /** Fluid that came by a needle: how much, how it looks, in what it is kept. Never material by itself. */
  | ({ readonly type: 'fluid'; readonly specimen: string } & KeptFluid)
  | {
      readonly type: 'slides-fixed';
      readonly specimen: string;
      readonly fixative: 'alcohol' | 'spray' | 'air-dried';
      readonly slides: readonly SlideState[];
    }
  | { readonly type: 'labelled'; readonly specimen: string }
  | { readonly type: 'aftercare-done'; readonly outcome: string }
  | { readonly type: 'posted'; readonly specimens: readonly string[]; readonly labId: string }
  | { readonly type: 'received'; readonly specimen: string; readonly slides: number }
  | { readonly type: 'rejected'; readonly specimen: string; readonly reason: RejectReason }
  /** The laboratory says that what it has filed of this specimen does not count. */
  | { readonly type: 'result-not-counted'; readonly specimen: string }
  | {
      readonly type: 'read-back';
      readonly specimen: string;
      readonly result: FiledResult;
      /** Four digits that the laboratory must quote. */
      readonly challenge: string;
      readonly lapsesAt: number;
    }
  | { readonly type: 'read-back-failed'; readonly specimen: string }
  | { readonly type: 'read-back-dropped'; readonly specimen: string; readonly why: 'denied' | 'lapsed' | 'replaced' }
  | { readonly type: 'results-locked'; readonly specimen: string }
  | { readonly type: 'results-unlocked'; readonly specimen: string }
  | {
      readonly type: 'result-filed';
      readonly specimen: string;
      readonly result: FiledResult;
      /** Index of the earlier result that this one amends; null for a first result. */
      readonly amends: number | null;
      readonly reason: string | null;
    }
  | { readonly type: 'thy1-reason'; readonly specimen: string; readonly reason: string }
  | { readonly type: 'acknowledged'; readonly specimen: string; readonly answer: string }
  | { readonly type: 'phoned'; readonly specimen: string }
  | { readonly type: 'told'; readonly specimen: string; readonly outcome: 'agrees' | 'refuses' | 'not-found' }
  /** The patient was looked for and not found. `specimen` null: for a referral, without a needle. */
  | { readonly type: 'not-reached'; readonly specimen: string | null }
  | { readonly type: 'reached'; readonly specimen: string | null }
  | { readonly type: 'appointed'; readonly specimen: string; readonly on: string }
  | { readonly type: 'attended'; readonly specimen: string; readonly seen: boolean }
  | { readonly type: 'specimen-closed'; readonly specimen: string; readonly end: SpecimenEnd }
  /** Taken back by whoever said it: seen, or told. Null: the whole case was ended by it. */
  | { readonly type: 'reopened'; readonly specimen: string | null }
  | { readonly type: 'not-sampled'; readonly why: string; readonly reviewOn: string | null }
  | { readonly type: 'closed'; readonly outcome: string }
  | { readonly type: 'sos-raised'; readonly sign: string }
  | { readonly type: 'sos-over'; readonly outcome: string }
  | {
      readonly type: 'doctor-asked';
      readonly question: string;
      readonly about: string;
      readonly urgency: string;
      readonly words: string;
    }
  | { readonly type: 'doctor-answered'; readonly question: string; readonly answer: string; readonly words: string }
  | { readonly type: 'frozen'; readonly why: string }
  | { readonly type: 'released' }
  | { readonly type: 'taken-over'; readonly ownerId: string }
  | { readonly type: 'reminded'; readonly duty: string; readonly rung: number }
  | { readonly type: 'noted'; readonly words: string }
  | { readonly type: 'stale'; readonly what: string };

/** One event of a case's history with who, when and by which message: all that the case itself depends on. */
export interface CaseHappening {
  readonly caseId: string;
  /** 1, 2, 3, … without a gap within a case. */
  readonly sequence: number;
  readonly at: number;
  /** Person id, or `line` when the line itself acted. */
  readonly by: string;
  /** The line event that caused it. */
  readonly eventId: string;
  readonly event: CaseEvent;
}

/** What happened, as its record keeps it. */
export interface CaseRecord extends CaseHappening {
  /** Flow and structure hash under which it happened, `-` outside a flow. */
  readonly flow: string;
}
