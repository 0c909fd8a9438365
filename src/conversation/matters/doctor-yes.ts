/** A doctor's yes to a needle: what it allows, what has to be asked before, and what it cannot lift. */

import { answered } from '../../case/answers.ts';
import { answerOf, type Case } from '../../case/case.ts';
import { feltOf } from '../../case/findings-of.ts';
import { againstNeedle } from '../../clinical/against-needle.ts';
import { needleStops } from '../../clinical/needle-stops.ts';
import type { Reason } from '../../clinical/reasons.ts';
import { type Act, type Matter, type Moment, record } from '../moment.ts';
import { isSaid, neverAsked } from './asked.ts';
import { closeQuestion } from './close-question.ts';
import { cystInReach } from './cyst-in-reach.ts';
import { findingsNow } from './findings-now.ts';
import { mayGuideYet, siteGuides } from './guidance.ts';
import { alarmToday, lastAlarmAt } from './hindrances.ts';
import { propose, proposedNow } from './target.ts';

/** Gates that are open because nobody has asked; once asked and not known they are reasons like others. */
const openedBy = {
  'danger-signs-unknown': 'signs',
  'risks-unknown': 'family',
  'bleeding-unknown': 'bleeding',
  'tsh-unknown': 'tsh',
  'low-tsh-without-scan': 'scan',
  'overactive-without-tsh': 'scan',
  'not-examined': 'examination',
  'no-ultrasound': 'ultrasound',
} as const satisfies Partial<Record<Reason, ReturnType<typeof neverAsked>[number]>>;

/** Where no ultrasound guides the needle a hand does: nobody examined yet is as good as not asked. */
function lacksHand(moment: Moment): boolean {
  return !siteGuides(moment) && answerOf(moment.case!, 'examined') !== true;
}

/**
 * A lump that the needle would go into where no ultrasound guides it, and of which nobody knows that it is the one that is
 * felt: `open` before it was asked, `unclear` where the hand cannot tell.
 */
export function feltUnknown(
  moment: Moment,
  aims = proposedNow(moment),
): { readonly item: string; readonly is: 'open' | 'unclear' } | null {
  const of = moment.case!;
  if (siteGuides(moment) || !Array.isArray(answerOf(of, 'felt'))) return null;
  for (const { nodule } of aims) {
    if (nodule === null) continue;
    if (answerOf(of, 'palpable', nodule) === 'unknown') return { item: nodule, is: 'unclear' };
    if (feltOf(of, nodule) === undefined) return { item: nodule, is: 'open' };
  }
  return null;
}

/** An INR that lacks, no longer counts or has no age: no yes stands for the number, so that it is asked again before the needle. */
const lacksInr: readonly Reason[] = ['inr-unknown', 'inr-too-old', 'inr-age-unknown'];

const inrFields = ['inr', 'inrAgeHours', 'changedSinceInr'] as const;

/** The number was forgotten by the yes and is asked next. */
function awaitsInr(moment: Moment): boolean {
  return !isSaid(moment.case!, 'inr') && against(moment).includes('inr-unknown');
}

/** How a doctor's yes to a needle is offered: with what has to be asked before. */
function needleChoice(moment: Moment): 'choice-ask-first' | 'choice-inr-first' | 'choice-needle' {
  const isOpen = neverAsked(moment.case!).length > 0 || lacksHand(moment) || feltUnknown(moment)?.is === 'open';
  if (isOpen) return 'choice-ask-first';
  return against(moment).some((one) => lacksInr.includes(one)) ? 'choice-inr-first' : 'choice-needle';
}

/** What stands against a needle now, of all that is proposed. */
function against(moment: Moment, aims = proposedNow(moment)): readonly Reason[] {
  const findings = findingsNow(moment);
  return [
    ...new Set([
      ...stopsOfNeedle(moment, aims),
      ...aims.flatMap((one) => againstNeedle(findings, one, moment.world.programme.inrHours)),
    ]),
  ];
}

/** What no doctor far away lifts. */
export function stopsOfNeedle(moment: Moment, aims = proposedNow(moment)): readonly Reason[] {
  const findings = findingsNow(moment);
  const unclear: readonly Reason[] = feltUnknown(moment, aims)?.is === 'unclear' ? ['palpable-unknown'] : [];
  const stops = aims.flatMap((one) => needleStops(findings, one));
  // Not felt is no stop while the ultrasound that could guide is still to be asked for.
  const isGuidanceOpen = mayGuideYet(moment);
  return [...unclear, ...stops.filter((one) => !(isGuidanceOpen && one === 'impalpable-without-guidance'))];
}

/**
 * What a doctor's yes to a needle lets pass, as long as it stands; null without one. An alarm about the patient ends every yes
 * of before: whoever gave it did not know of the alarm (our convention).
 */
export function standingYes({ case: of, now }: Moment): readonly Reason[] | null {
  const allowed = answerOf(of!, 'doctor-allows') ?? null;
  return isBeforeAlarm(of!, of!.answeredAt['doctor-allows'] ?? 0, now) ? null : allowed;
}

/** Whether an alarm about this patient came, or goes on, after this instant. */
function isBeforeAlarm(of: Case, at: number, now: number): boolean {
  const alarmAt = lastAlarmAt(of, now);
  return alarmAt !== null && at < alarmAt;
}

/** True: a doctor had agreed to a needle, and then there was an alarm. */
export function isYesPast(moment: Moment): boolean {
  return (answerOf(moment.case!, 'doctor-allows') ?? null) !== null && standingYes(moment) === null;
}

/**
 * Reasons that stand against a needle into these although a doctor has allowed one; null without a doctor's yes. Who weighs
 * anew says what is proposed now: what was proposed before names lumps by the numbers that they had then.
 */
export function beyondYes(moment: Moment, aims = proposedNow(moment)): readonly Reason[] | null {
  const allowed = standingYes(moment);
  if (allowed === null) return null;
  const stops = stopsOfNeedle(moment, aims);
  return against(moment, aims).filter((one) => stops.includes(one) || !allowed.includes(one));
}

/** A doctor's yes for a lump that the hand does not find and no ultrasound guides to: sampled elsewhere or not at all. */
export function isYesForUnfelt(moment: Moment): boolean {
  return beyondYes(moment)?.includes('impalpable-without-guidance') === true;
}

/** The doctor knew what stood in the question: what was asked. What nobody asked is no part of the yes. */
export function allowNeedle(moment: Moment): readonly Act[] {
  const of = moment.case!;
  const asked = moment.questions.find((one) => one.id === moment.frame.vars.question);
  // Asked before an alarm of which the doctor did not read: what follows asks anew.
  if (asked && isBeforeAlarm(of, asked.openedAt, moment.now)) return [];
  const unasked = neverAsked(of);
  const isHandless = lacksHand(moment);
  const standing = against(moment);
  const isWithoutInr = standing.some((one) => lacksInr.includes(one));
  const known = standing.filter((one) => {
    if ((isHandless && one === 'not-examined') || lacksInr.includes(one)) return false;
    const subject = one in openedBy ? openedBy[one as keyof typeof openedBy] : null;
    return subject === null || !unasked.includes(subject);
  });
  const before = standingYes(moment) ?? [];
  return [
    // Who says yes after today's alarm has read of it, and is not asked about it once more before the needle.
    ...(alarmToday(moment) ? [record(answered('alarm-allowed', true))] : []),
    record(answered('doctor-allows', [...new Set([...before, ...known])])),
    ...(isHandless ? [record(answered('examined', null))] : []),
    ...(isWithoutInr ? inrFields.map((one) => record(answered(one, null))) : []),
    ...propose(moment),
  ];
}

/** Whether emptying a cyst may be offered; beside an urgent referral only for a sign that pressure explains. */
function mayDrain(moment: Moment): boolean {
  const findings = findingsNow(moment);
  const isUrgent = moment.case!.decided?.decision === 'refer-urgent';
  const presses = findings.dangerSigns?.some((one) => one === 'swallowing' || one === 'breathless') === true;
  return cystInReach(moment) !== null && (!isUrgent || presses);
}

export const doctorYes: Matter = {
  decisions: {
    'doctor-may': {
      outcomes: ['needle', 'needle-or-drain', 'no-needle'],
      decide: (m) => {
        if (stopsOfNeedle(m).length > 0) return 'no-needle';
        return mayDrain(m) ? 'needle-or-drain' : 'needle';
      },
    },
    'asked-anew-as': {
      outcomes: ['usual', 'urgent', 'emergency'],
      decide: (m) => {
        const decision = m.case!.decided?.decision;
        if (decision === 'emergency-now') return 'emergency';
        return decision === 'refer-urgent' ? 'urgent' : 'usual';
      },
    },
    'after-yes': {
      outcomes: ['alarm-since', 'unasked', 'inr', 'stopped', 'free'],
      decide: (m) => {
        if (standingYes(m) === null) return 'alarm-since';
        if (neverAsked(m.case!).length > 0 || feltUnknown(m)?.is === 'open') return 'unasked';
        if (awaitsInr(m)) return 'inr';
        return (beyondYes(m) ?? []).length > 0 ? 'stopped' : 'free';
      },
    },
  },
  recorders: {
    'allow-needle': allowNeedle,
    // What a doctor would answer now was asked before the alarm.
    'asked-before-alarm': (m) => closeQuestion(m, 'replaced', 'decision.alarm-since-for-doctor'),
  },
  values: {
    needleChoice: {
      of: (m) => {
        const key = m.case ? needleChoice(m) : 'choice-needle';
        return m.world.texts.render(m.person.locale, `gaps.${key}`, () => '');
      },
      sample: 'ask these, then needle',
    },
  },
};
