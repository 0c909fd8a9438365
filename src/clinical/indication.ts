import { assertNever } from './assert-never.ts';
import { type CautionNote, nodulesCautions, patientCautions } from './cautions.ts';
import type { PolicyReading } from './completions.ts';
import type { Findings, FindingsField } from './findings.ts';
import {
  allowsWithoutUltrasound,
  dangerSignsGate,
  type Gate,
  gatesBeforeScore,
  isChild,
  mandatoryStepsGate,
  type Open,
} from './gates.ts';
import { withGrowth } from './growth.ts';
import { type KnownFindings, type KnownNodule, knownFindings } from './known.ts';
import { volumeMl } from './nodule.ts';
import type { PolicyId } from './policies/policy.ts';
import type { Proposed } from './proposed.ts';
import type { Caution, Decision, Reason } from './reasons.ts';
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
export function weighCase(findings: Findings, governing: PolicyId): WeighedCase {
  const known = knownFindings(findings);
  const nodules = (known.nodules ?? []).map((nodule) => weighNodule(known, nodule, governing));
  const score = withGrowth(
    scoreOf(known, nodules, governing),
    nodules.map(({ nodule }) => nodule),
    governing,
  );
  return { known, nodules, score, selection: selectForSampling(nodules) };
}

/**
 * Decides a whole case: gates first, then the score of the governing policy. Pure, never throws on parsed findings; the
 * order of nodules and of listed findings changes nothing but the order of `nodules`.
 */
export function assess(findings: Findings, { policy = defaultPolicy }: { policy?: PolicyId } = {}): Assessment {
  return assessWeighed(weighCase(findings, policy), policy);
}

/** As `assess`, on a case already weighed under the same policy. */
export function assessWeighed({ known, nodules, score }: WeighedCase, policy: PolicyId): Assessment {
  const urgent = dangerSignsGate(known, true);
  const verdict = throughGates(known, score, [() => urgent, ...gatesBeforeScore]);
  const sampleToo = verdict.decision === 'refer-urgent' ? sampleMeanwhile(known, score) : null;
  const needle = isNeedlePossible(verdict.decision) || sampleToo === 'yes' || sampleToo === 'ask-doctor';
  const notes = [
    ...patientCautions(known, verdict.decision, needle),
    ...nodulesCautions(known, [...nodules].sort(bySuspicion), policy),
  ];
  const stillOpen = sampleToo === 'ask-doctor' ? score.missing : [];
  return {
    decision: verdict.decision,
    because: unique(verdict.because),
    cautions: unique(notes.map(({ caution }) => caution)),
    missing: unique([...verdict.missing, ...stillOpen, ...lookAgain(notes, verdict.decision)]),
    guidance: needsGuidance(known) ? 'required' : 'recommended',
    sampleToo,
    proposed: needle ? selectForSampling(nodules).proposed.map((id) => proposedNodule(nodules, id)) : [],
    nodules: nodules.map(assessedNodule),
  };
}

function throughGates(known: KnownFindings, score: Score, gates: readonly Gate[]): Verdict {
  const needle = score.decision !== 'no-sampling' && score.decision !== 'follow-up';
  const open: Open[] = [];
  for (const gate of gates) {
    const result = gate(known, needle);
    if (result.kind === 'stop') {
      const missing = [...open.flatMap((unasked) => unasked.missing), ...result.missing];
      return { decision: result.decision, because: result.because, missing };
    }
    if (result.kind === 'open') open.push(result);
  }
  if (open.length === 0) return withPlace(known, score);
  return {
    decision: 'ask-doctor',
    because: [...open.map((unasked) => unasked.because), ...score.because],
    missing: [...open.flatMap((unasked) => unasked.missing), ...score.missing],
  };
}

/** Impalpable: only under ultrasound guidance (National Institute for Health and Care Excellence, NG230; common practice). */
function withPlace(known: KnownFindings, score: Score): Verdict {
  if (score.decision !== 'sample' && score.decision !== 'optional') return score;
  const { palpable, guidance } = known;
  if (palpable === true || guidance === true) return score;
  const missing: FindingsField[] = [...score.missing];
  if (palpable === null) missing.push('palpable');
  if (guidance === null) missing.push('guidance');
  const isImpossibleHere = palpable === false || guidance === false;
  if (score.decision !== 'sample' || !isImpossibleHere) return { ...score, missing };
  return { decision: 'sample-elsewhere', because: [...score.because, 'impalpable-without-guidance'], missing };
}

/** Whether to sample while an urgent referral is under way; it never delays the referral. */
function sampleMeanwhile(known: KnownFindings, score: Score): 'yes' | 'no' | 'ask-doctor' {
  const isException = allowsWithoutUltrasound(known);
  const nodesToo = known.dangerSigns.present.includes('neck-nodes');
  const raised: Score = isException || nodesToo ? { ...score, decision: 'sample' } : score;
  const gates = isException ? gatesBeforeScore.filter((gate) => gate !== mandatoryStepsGate) : gatesBeforeScore;
  const { decision } = throughGates(known, raised, gates);
  switch (decision) {
    case 'sample':
      return 'yes';
    case 'optional':
    case 'ask-doctor':
      return 'ask-doctor';
    case 'sample-elsewhere':
    case 'follow-up':
    case 'no-sampling':
    case 'refer-first':
    case 'examine-first':
    case 'refer-urgent':
    case 'emergency-now':
      return 'no';
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

function proposedNodule(nodules: readonly WeighedNodule[], id: string): Proposed {
  const nodule = nodules.find((one) => one.nodule.id === id)?.nodule;
  return { kind: 'nodule', nodule: id, site: nodule?.site ?? null, mm: nodule?.size?.most ?? null };
}

function needsGuidance(known: KnownFindings): boolean {
  return known.palpable !== true || isChild(known);
}

function assessedNodule({ nodule, readings }: WeighedNodule): AssessedNodule {
  return { id: nodule.id, volumeMl: roundedVolume(nodule), policies: readings };
}

function roundedVolume({ mm }: KnownNodule): number | null {
  const [length, width, depth] = mm;
  if (length === undefined || width === undefined || depth === undefined) return null;
  return Math.round(volumeMl([length, width, depth]) * 100) / 100;
}
