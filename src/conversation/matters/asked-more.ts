/** What is asked beyond what could change the advice: before a needle that a doctor allowed, and on another day. */
import { answerOf, type Case } from '../../case/case.ts';
import { nodulesOf } from '../../case/findings-of.ts';
import { inrHours } from '../../clinical/clotting.ts';
import type { Moment } from '../moment.ts';
import { isSaid, neverAsked, nextOfTsh } from './asked.ts';
import { listAnswer } from './common.ts';
import { feltUnknown, stopsOfNeedle } from './doctor-yes.ts';
import { findingsNow } from './findings-now.ts';
import { type NodulesNext, nextOfNodule } from './next-of-nodule.ts';
import { weighedNow } from './weighed-now.ts';

type Question =
  | 'pregnant'
  | 'pregnant-weeks'
  | 'family'
  | 'family-and-pet'
  | 'bleeding'
  | Inr
  | 'thinner'
  | 'platelets'
  | 'drip-hours'
  | Step;
type More = { readonly outcome: Question } | NodulesNext;
type Inr = 'inr' | 'inr-days' | 'inr-changed';
type Step = 'examined' | 'tsh' | NonNullable<ReturnType<typeof nextOfTsh>> | 'ultrasound' | 'sizes';

/** Ages at which a woman is asked whether she is pregnant before a needle on another day. Our convention. */
const mayBePregnant = { from: 12, to: 55 } as const;

/**
 * The next question that a needle needs and the advice does not; null where there is none, or where a stop stands that no
 * answer lifts.
 */
export function askedMore(moment: Moment): More | null {
  const of = moment.case!;
  const isAnew = answerOf(of, 'asked-anew') === 'asking';
  if (!isAnew && answerOf(of, 'doctor-allows') == null) return null;
  if (stopsOfNeedle(moment).length > 0) return null;
  const outcome = (isAnew ? ofPregnancy(moment, of) : null) ?? ofBleeding(moment, of) ?? ofSteps(of);
  return outcome === null ? ofNodules(moment, of) : { outcome };
}

function ofPregnancy(moment: Moment, of: Case): Question | null {
  if (answerOf(of, 'patient.sex') !== 'female') return null;
  const age = findingsNow(moment).patient?.ageYears;
  if (typeof age === 'number' && (age < mayBePregnant.from || age > mayBePregnant.to)) return null;
  if (!isSaid(of, 'patient.pregnant')) return 'pregnant';
  const weeks = answerOf(of, 'patient.pregnant') === 'yes' && !isSaid(of, 'patient.pregnantWeeks');
  return weeks ? 'pregnant-weeks' : null;
}

function ofBleeding(moment: Moment, of: Case): Question | null {
  const unasked = neverAsked(of);
  if (unasked.includes('family')) return moment.world.programme.asksPet ? 'family-and-pet' : 'family';
  if (unasked.includes('bleeding')) return 'bleeding';
  const bleeding = listAnswer(moment, 'bleeding');
  const inr = bleeding.includes('warfarin') ? nextOfInr(of) : null;
  if (inr !== null) return inr;
  if (answerOf(of, 'otherThinner') === true && !isSaid(of, 'thinnerKind')) return 'thinner';
  if (bleeding.includes('heparin') && !isSaid(of, 'platelets')) return 'platelets';
  return bleeding.includes('iv-antiplatelet') && !isSaid(of, 'ivAntiplateletHours') ? 'drip-hours' : null;
}

/** The INR, how old it is, and what may have moved it since where it is older than such a thing allows. */
export function nextOfInr(of: Case): Inr | null {
  if (!isSaid(of, 'inr')) return 'inr';
  if (answerOf(of, 'inr') === 'unknown') return null;
  if (!isSaid(of, 'inrAgeHours')) return 'inr-days';
  const hours = answerOf(of, 'inrAgeHours');
  const isOlder = typeof hours === 'number' && hours > inrHours.afterChange;
  return isOlder && !isSaid(of, 'changedSinceInr') ? 'inr-changed' : null;
}

function ofSteps(of: Case): Step | null {
  if (!isSaid(of, 'examined')) return 'examined';
  if (!isSaid(of, 'tsh')) return 'tsh';
  const ofTsh = nextOfTsh(of);
  if (ofTsh !== null) return ofTsh;
  if (!isSaid(of, 'ultrasound.done')) return 'ultrasound';
  return answerOf(of, 'ultrasound.done') === true && !isSaid(of, 'nodules') ? 'sizes' : null;
}

/** A lump that is sampled is described, so that the result can be held against its look. */
function ofNodules(moment: Moment, of: Case): NodulesNext | null {
  const findings = findingsNow(moment);
  for (const item of nodulesOf(of)) {
    const next = nextOfNodule(of, findings, item, moment);
    if (next) return next;
  }
  const felt = feltUnknown(moment, weighedNow(moment).aims);
  return felt?.is === 'open' ? { outcome: 'felt', item: felt.item } : null;
}
