import { assertNever } from './assert-never.ts';
import { type CautionNote, needleCautions, nodulesCautions, patientCautions, referralCautions } from './cautions.ts';
import { inrHours as inrHoursByDefault } from './clotting.ts';
import type { PolicyReading } from './completions.ts';
import { withDoubts } from './doubts.ts';
import type { Findings, FindingsField } from './findings.ts';
import {
  allowsWithoutUltrasound,
  dangerSignsGate,
  type Gate,
  gatesBeforeScore,
  isChild,
  mandatoryStepsGate,
  type Open,
  type Situation,
} from './gates.ts';
import { withGrowth } from './growth.ts';
import { type KnownFindings, type KnownNodule, knownFindings } from './known.ts';
import { volumeMl } from './nodule.ts';
import type { PolicyId } from './policies/policy.ts';
import { type Candidate, candidatesOf, type Proposed, urgentCandidates } from './proposed.ts';
import type { Caution, Decision, Reason } from './reasons.ts';
import { rememberedOf } from './remembered.ts';
import { type Score, scoreOf, unique } from './score.ts';
import { bySuspicion, type Selection, selectForSampling, type WeighedNodule, weighNodule } from './several-nodules.ts';

/** The governing policy where a programme names none. */
export const defaultPolicy: PolicyId = 'common-practice';

/** The answer to one set of findings, in the shape of the `assess` contract (without the id). */
export interface Assessment {
  readonly decision: Decision;
  /** Why, in the order of weight. */
  readonly because: readonly Reason[];
  readonly cautions: readonly Caution[];
  /** Fields that could still change the decision, best first, and those to look at again. */
  readonly missing: readonly FindingsField[];
  /** Whether a needle would need ultrasound guidance. */
  readonly guidance: 'required' | 'recommended';
  /** For an urgent referral: whether to sample meanwhile. `null` for every other decision. */
  readonly sampleToo: 'yes' | 'no' | 'ask-doctor' | null;
  /** What a needle is proposed for, the first to do first; at most three. */
  readonly proposed: readonly Proposed[];
  readonly nodules: readonly AssessedNodule[];
}

export interface AssessedNodule {
  readonly id: string;
  /** In mL, two decimals; `null` without three diameters. */
  readonly volumeMl: number | null;
  /** What every policy says, whatever the gates say. */
  readonly policies: { readonly [P in PolicyId]: PolicyReading };
}

/** What a programme may set of a decision. */
export interface Rules {
  readonly policy?: PolicyId;
  /** Hours for which an INR counts where nothing is new. */
  readonly inrHours?: number;
}

interface Verdict {
  readonly decision: Decision;
  readonly because: readonly Reason[];
  readonly missing: readonly FindingsField[];
}

/** Findings read once and weighed under a governing policy: what `assess` and the conversation share. */
export interface WeighedCase {
  readonly known: KnownFindings;
  readonly nodules: readonly WeighedNodule[];
  readonly score: Score;
  /** Which nodules to weigh and propose; empty lists without nodules. */
  readonly selection: Selection;
}

/** Weighs every nodule of the findings; says nothing yet about the gates. */
export const weighCase = rememberedOf((findings: Findings, governing: PolicyId): WeighedCase => {
  const known = knownFindings(findings);
  const nodules = (known.nodules ?? []).map((nodule) => weighNodule(known, nodule, governing));
  const plain = nodules.map(({ nodule }) => nodule);
  const grown = withGrowth(scoreOf(known, nodules, governing), plain, governing);
  const score = withDoubts(grown, nodules, governing);
  return { known, nodules, score, selection: selectForSampling(nodules) };
});

/**
 * Decides a whole case: gates first, then the score of the governing policy. Pure, never throws on parsed findings; the
 * order of nodules and of listed findings changes nothing but the order of `nodules`.
 */
export function assess(findings: Findings, { policy = defaultPolicy, inrHours }: Rules = {}): Assessment {
  return assessWeighed(weighCase(findings, policy), policy, inrHours);
}

/** As `assess`, on a case already weighed under the same policy. */
export function assessWeighed(
  weighed: WeighedCase,
  policy: PolicyId,
  inrHours: number = inrHoursByDefault.settled,
): Assessment {
  const { known, nodules, score } = weighed;
  const situation = { needle: isNeedleInQuestion(weighed), inrHours };
  const usual = candidatesOf(known, nodules, score);
  const verdict = throughGates(known, score, usual, [dangerSignsGate, ...gatesBeforeScore], situation);
  const isUrgent = verdict.decision === 'refer-urgent';
  const urgent = isUrgent ? urgentCandidates(known, nodules, score) : [];
  const meanwhile = isUrgent ? sampleMeanwhile(known, score, urgent, situation) : null;
  const sampleToo = meanwhile?.word ?? null;
  const needle = isNeedlePossible(verdict.decision) || sampleToo === 'yes' || sampleToo === 'ask-doctor';
  const candidates = !needle ? [] : isUrgent ? urgent : usual;
  const proposed = verdict.decision === 'sample-elsewhere' ? candidates : forHere(candidates);
  const notes = [
    ...patientCautions(known, verdict.decision),
    ...referralCautions(known, verdict, nodules),
    ...(needle ? needleCautions(known, candidates, inrHours) : []),
    ...nodulesCautions(known, [...nodules].sort(bySuspicion), policy),
  ];
  return {
    decision: verdict.decision,
    because: unique(verdict.because),
    cautions: unique(notes.map(({ caution }) => caution)),
    missing: unique([...verdict.missing, ...(meanwhile?.missing ?? []), ...lookAgain(notes, verdict.decision)]),
    guidance: needsGuidance(known, proposed) ? 'required' : 'recommended',
    sampleToo,
    proposed: proposed.map(({ what }) => what),
    nodules: nodules.map(assessedNodule),
  };
}

/** Whether a needle may still come of it: what is known leaves one open, or nobody has described the nodules. */
export function isNeedleInQuestion({ known, score }: WeighedCase): boolean {
  return known.nodules === null || (score.decision !== 'no-sampling' && score.decision !== 'follow-up');
}

function throughGates(
  known: KnownFindings,
  score: Score,
  candidates: readonly Candidate[],
  gates: readonly Gate[],
  situation: Situation,
): Verdict {
  const open: Open[] = [];
  for (const gate of gates) {
    const result = gate(known, situation);
    if (result.kind === 'stop') {
      const missing = [...open.flatMap((unasked) => unasked.missing), ...result.missing];
      return { decision: result.decision, because: result.because, missing };
    }
    if (result.kind === 'open') open.push(result);
  }
  const placed = withPlace(known, score, candidates);
  if (open.length === 0) return placed;
  return {
    decision: 'ask-doctor',
    because: [...open.map((unasked) => unasked.because), ...placed.because],
    missing: [...open.flatMap((unasked) => unasked.missing), ...placed.missing],
  };
}

/**
 * The first of what is proposed decides where. An optional needle that cannot be guided here is the doctor's: to watch,
 * or to send (our convention).
 */
function withPlace(known: KnownFindings, score: Score, [first, ...others]: readonly Candidate[]): Verdict {
  if (first === undefined || (score.decision !== 'sample' && score.decision !== 'optional')) return score;
  const missing: FindingsField[] = [...score.missing];
  const unsure = [first, ...others].filter(({ felt }) => felt !== true);
  if (known.guidance !== true && unsure.some(({ felt }) => felt === null)) missing.push('palpable');
  if (known.guidance === null && unsure.length > 0) missing.push('guidance');
  if (first.place === 'here') return { ...score, missing };
  const isElsewhere = first.place === 'elsewhere';
  const because: Reason[] = [...score.because, isElsewhere ? 'impalpable-without-guidance' : 'palpable-unknown'];
  const decision = isElsewhere && score.decision === 'sample' ? 'sample-elsewhere' : 'ask-doctor';
  return { decision, because, missing };
}

/** Nothing is proposed here where the first cannot be sampled here; a further one only where it surely can. */
const forHere = (candidates: readonly Candidate[]): readonly Candidate[] =>
  candidates[0]?.place === 'elsewhere' ? [] : candidates.filter(({ place }, rank) => rank === 0 || place === 'here');

/** Whether to sample while an urgent referral is under way, which it never delays, and what could still change that. */
function sampleMeanwhile(
  known: KnownFindings,
  score: Score,
  candidates: readonly Candidate[],
  situation: Situation,
): { readonly word: 'yes' | 'no' | 'ask-doctor'; readonly missing: readonly FindingsField[] } {
  const isException = allowsWithoutUltrasound(known);
  const isRaised = isException || known.dangerSigns.present.includes('neck-nodes');
  const raised: Score = isRaised ? { ...score, decision: 'sample' } : score;
  const needle = situation.needle || isRaised;
  const gates = isException ? gatesBeforeScore.filter((gate) => gate !== mandatoryStepsGate) : gatesBeforeScore;
  const { decision, missing } = throughGates(known, raised, candidates, gates, { ...situation, needle });
  switch (decision) {
    case 'sample':
      return { word: candidates.length > 0 ? 'yes' : 'no', missing: [] };
    case 'optional':
    case 'ask-doctor':
      return { word: 'ask-doctor', missing };
    case 'sample-elsewhere':
    case 'follow-up':
    case 'no-sampling':
    case 'refer-first':
    case 'examine-first':
    case 'refer-urgent':
    case 'emergency-now':
      return { word: 'no', missing: [] };
    default:
      return assertNever(decision);
  }
}

function isNeedlePossible(decision: Decision): boolean {
  return (
    decision === 'sample' || decision === 'sample-elsewhere' || decision === 'optional' || decision === 'ask-doctor'
  );
}

/** Nobody is sent back to the machine while something more urgent waits. */
function lookAgain(notes: readonly CautionNote[], decision: Decision): readonly FindingsField[] {
  return decision === 'emergency-now' ? [] : notes.flatMap(({ missing }) => missing);
}

function needsGuidance(known: KnownFindings, proposed: readonly Candidate[]): boolean {
  if (isChild(known)) return true;
  return proposed.length > 0 ? proposed.some(({ felt }) => felt !== true) : known.palpable !== true;
}

function assessedNodule({ nodule, readings }: WeighedNodule): AssessedNodule {
  return { id: nodule.id, volumeMl: roundedVolume(nodule), policies: readings };
}

function roundedVolume({ mm }: KnownNodule): number | null {
  const [length, width, depth] = mm;
  if (length === undefined || width === undefined || depth === undefined) return null;
  return Math.round(volumeMl([length, width, depth]) * 100) / 100;
}
