/** The decision: weighed once, kept in the history with its whole reasoning, said with its reasons and cautions. */

import { answered } from '../../case/answers.ts';
import { sittingStatuses } from '../../case/bedside.ts';
import { answerOf } from '../../case/case.ts';
import { asJson } from '../../case/stored.ts';
import { noNeedleMonths, pregnancy } from '../../clinical/follow-up-interval.ts';
import { pregnancyTshSettledAfterWeeks } from '../../clinical/gates.ts';
import { decisions } from '../../clinical/reasons.ts';
import { readDate } from '../answers/date.ts';
import type { Act, Matter, Moment } from '../moment.ts';
import { record } from '../moment.ts';
import { durationOf } from '../programme.ts';
import { addDays, type Day, dayText, instantOf, localTime, parseDay } from '../schedule.ts';
import { adviceValues } from './advice.ts';
import { askAgainOn } from './again.ts';
import { decidedAnew, isAsBefore } from './another-day.ts';
import { settleQuestion } from './close-question.ts';
import { closeOnce, dayWords, textAnswer, zoneOf } from './common.ts';
import { dateRule } from './days.ts';
import { decidedOf } from './decided.ts';
import {
  aboutLumpText,
  alsoWhyText,
  cautionsText,
  findingsSayText,
  growthNoteText,
  guideMustText,
  guideText,
  isUrgentFirst,
  missingSteps,
  othersText,
  referHowText,
  referLookText,
  referredForText,
  reviewWhenText,
  sampleScreens,
  toldWhyText,
  waitNotSameText,
  whyText,
} from './decision-words.ts';
import { beyondYes, isYesForUnfelt } from './doctor-yes.ts';
import { followUpDay, laterDay } from './follow-up-day.ts';
import { asksOfNeedle } from './no-to-needle.ts';
import { weighedNow } from './weighed-now.ts';

function decide(moment: Moment): readonly Act[] {
  const { policy } = moment.world.programme;
  const { assessment, drain, isAllowed, aims } = weighedNow(moment);
  const lost = drain === 'lost' ? [record(answered('drain', null)), record(answered('doctor-allows', null))] : [];
  const beyond = isAllowed ? beyondYes(moment, aims) : null;
  // A stop that stands although a doctor said yes goes first: it is the news.
  const because = [...new Set([...(beyond ?? []), ...assessment.because])];
  return [
    ...lost,
    record({
      type: 'decided',
      decision: assessment.decision,
      policy,
      assessment: asJson({ ...assessment, because }),
      proposed: aims,
    }),
    ...decidedAnew(moment, { ...assessment, because, proposed: aims }),
  ];
}

/** What the decision comes to in this conversation, besides its own word. */
function outcomeOf(moment: Moment): string {
  const of = moment.case!;
  const { decision } = of.decided!;
  if (decision === 'emergency-now') return decision;
  if (isAsBefore(of) && isWorkersToChoose(moment)) return 'as-before';
  // Advised by the findings alone: said with all its reasons, whoever agreed before.
  if (beyondYes(moment)?.length === 0) return decision === 'sample' ? 'sample' : 'released';
  if (isYesForUnfelt(moment) && decision !== 'refer-urgent' && decision !== 'refer-first') return 'not-felt';
  if (decision === 'examine-first' && answerOf(of, 'examined-now') === 'done') return 'examine-again';
  if (decision === 'optional' && decidedOf(moment)?.because.includes('low-tsh-pregnancy-may-wait')) {
    return 'optional-pregnant';
  }
  return decision;
}

/** Decisions under which a worker agrees to the needle with nobody but the patient. */
const workersToChoose: ReadonlySet<string> = new Set(['sample', 'optional']);

/**
 * Whether the needle needs nobody's word any more: it is advised, or a doctor has agreed to it. A worker who wanted it "now" on a
 * day before has no yes by that.
 */
function isWorkersToChoose(moment: Moment): boolean {
  const { decision = '' } = moment.case!.decided ?? {};
  const isBeside = decidedOf(moment)?.sampleToo === 'yes';
  return isBeside || workersToChoose.has(decision) || beyondYes(moment)?.length === 0;
}

function endWith(why: string, reviewOn: string | null): readonly Act[] {
  return [record({ type: 'not-sampled', why, reviewOn }), record({ type: 'closed', outcome: why })];
}

/** Closed, and asked about again on this day. */
function endOn(moment: Moment, why: string, day: Day): readonly Act[] {
  return [...endWith(why, dayText(day)), ...(moment.case!.practice ? [] : [askAgainOn(moment, day)])];
}

/** When a low TSH of early pregnancy is measured again; weeks that nobody knows count as few. */
function tshAgainDay(moment: Moment): Day {
  const weeks = Number(textAnswer(moment, 'patient.pregnantWeeks')) || 0;
  // Whole weeks are counted: the first one that lies beyond.
  const days = Math.max(1, pregnancyTshSettledAfterWeeks + 1 - weeks) * 7;
  return addDays(localTime(moment.now, zoneOf(moment)), days);
}

/** When TSH and scan are due after this pregnancy; weeks that nobody knows count as few. */
function afterBirthDay(moment: Moment): Day {
  const weeks = Number(textAnswer(moment, 'patient.pregnantWeeks')) || 0;
  const days = (Math.max(0, pregnancy.weeks - weeks) + pregnancy.breastFeedingWeeks) * 7;
  return addDays(localTime(moment.now, zoneOf(moment)), days);
}

/** Whether the patient sits there for the needle: something of it happened a short while ago. */
function isSitting({ case: of, now, world }: Moment): boolean {
  const isRecent = now - of!.changedAt < durationOf(world.programme, 'referral-waits');
  return isRecent && sittingStatuses.has(of!.status);
}

/** Whether this day is today or still to come. */
function comesYet(moment: Moment, day: Day | null): boolean {
  return day !== null && dayText(day) >= dayText(localTime(moment.now, zoneOf(moment)));
}

/**
 * Whether something of a needle at this clinic is still to come: it was agreed to by the worker or a doctor, or it was in and
 * what it gave is not settled. Being seen elsewhere ends a case only where there is none.
 */
function isNeedleOpen({ case: of }: Moment): boolean {
  if (of!.closed !== null) return false;
  // A parcel given up as lost has come after all: its result waits to be acted on.
  if (of!.specimens.some((one) => one.results.length > 0 && one.end === null)) return true;
  if (answerOf(of!, 'parcel') === 'referred') return false;
  // A needle that gave nothing to send, and the plan after it is the hospital.
  if (of!.notSampled?.why === 'referred' && (answerOf(of!, 'plan') ?? null) !== null) return false;
  if (of!.specimens.some((one) => one.attempts.length > 0)) return true;
  // Gone and found again, the patient comes on a day.
  const { left, 'sampling-day': day } = of!.answeredAt;
  if (left !== undefined && day !== undefined && day >= left && (answerOf(of!, 'left') ?? null) === null) return true;
  // Sent away without a needle since it was agreed on: a doctor's word for the hospital is the last one.
  if (of!.notSampled !== null) return false;
  const ahead = answerOf(of!, 'go-ahead') ?? null;
  if (ahead === 'now' || ahead === 'other-day') return true;
  // What was sent away without a needle, an emergency above all, needs none any more, whatever a doctor allowed before.
  return !withoutNeedle.has(ahead) && (answerOf(of!, 'doctor-allows') ?? null) !== null;
}

const withoutNeedle: ReadonlySet<unknown> = new Set(['refer-only', 'told', 'on-the-way']);

/** Where the patient was seen, or a doctor has closed the case, nobody need agree to a referral or a needle any more: they hear why. */
function askedNoMore(
  moment: Moment,
  answer: string,
  key: 'referral.seen-for-doctor' | 'decision.closed-for-doctor',
): readonly Act[] {
  const { id: caseId } = moment.case!;
  const open = moment.questions.filter(
    (one) => one.caseId === caseId && one.answeredAt === null && (one.about === 'urgent-referral' || asksOfNeedle(one)),
  );
  const vars = { doctor: String(moment.frame.vars.doctor ?? '') };
  const ending = { now: moment.now, by: moment.person.id, answer, tell: key, vars };
  return open.flatMap((one) => settleQuestion(one, ending));
}

type PlannedDay = 'referral-day' | 'sampling-day';

function dayOf(moment: Moment, field: PlannedDay): ReturnType<typeof parseDay> {
  return parseDay(textAnswer(moment, field));
}

function dayIn(moment: Moment, field: PlannedDay): string {
  const day = dayOf(moment, field);
  return day ? dayWords(day, moment.world.texts.months(moment.person.locale)) : '';
}

export const decision: Matter = {
  decisions: {
    decision: {
      outcomes: [...decisions, 'as-before', 'released', 'examine-again', 'optional-pregnant', 'not-felt'],
      decide: outcomeOf,
    },
    'looks-again-at': {
      outcomes: ['tsh', 'lump'],
      decide: (m) => (decidedOf(m)?.because.includes('low-tsh-early-pregnancy') ? 'tsh' : 'lump'),
    },
    'referral-day': {
      outcomes: ['known', 'unknown'],
      decide: (m) => (comesYet(m, dayOf(m, 'referral-day')) ? 'known' : 'unknown'),
    },
    'at-the-bedside': {
      outcomes: ['yes', 'no'],
      decide: (m) => (isSitting(m) ? 'yes' : 'no'),
    },
    'needle-open': { outcomes: ['yes', 'no'], decide: (m) => (isNeedleOpen(m) ? 'yes' : 'no') },
    'refer-how': { outcomes: ['urgent', 'usual'], decide: (m) => (isUrgentFirst(m) ? 'urgent' : 'usual') },
    'sample-too': { outcomes: ['yes', 'no', 'ask-doctor'], decide: (m) => decidedOf(m)?.sampleToo ?? 'ask-doctor' },
  },
  recorders: {
    'decide-case': decide,
    'urgent-advice': () => [record({ type: 'not-sampled', why: 'referred-urgently', reviewOn: null })],
    'goes-today': (m) => [record(answered('referral-day', dayText(localTime(m.now, zoneOf(m)))))],
    // A cyst of the midline, a salivary gland, a node: another way of being looked at, and no thyroid needle here.
    'not-thyroid-advice': () => [record({ type: 'not-sampled', why: 'not-thyroid', reviewOn: null })],
    'refer-advice': () => [record({ type: 'not-sampled', why: 'referred', reviewOn: null })],
    'start-referral': (m) => [
      {
        do: 'post',
        personId: m.person.id,
        what: { kind: 'run', flow: 'referral', caseId: m.case!.id, item: null, vars: {} },
      },
    ],
    'follow-up-advice': (m) => endOn(m, 'follow-up', followUpDay(m)),
    'tsh-again-advice': (m) => endOn(m, 'follow-up', tshAgainDay(m)),
    'after-birth-advice': (m) => endOn(m, 'follow-up', afterBirthDay(m)),
    'no-sampling-advice': (m) => endWith('no-sampling', dayText(laterDay(m, noNeedleMonths))),
    'drained-advice': (m) => endOn(m, 'drained', followUpDay(m)),
    'doctor-closed': (m) => [
      ...askedNoMore(m, 'closed-by-doctor', 'decision.closed-for-doctor'),
      ...endWith('closed-by-doctor', dayText(laterDay(m, noNeedleMonths))),
    ],
    'forget-steps': () => (['examined', 'ultrasound.done'] as const).map((field) => record(answered(field, null))),
    // One patient is asked about once, however often they were referred.
    'referral-begun': (m) => [
      { do: 'end-threads', caseId: m.case!.id, traits: { endsWhen: 'referred-anew' }, keepsOwn: true },
    ],
    'referral-done': (m) => [
      ...askedNoMore(m, 'seen', 'referral.seen-for-doctor'),
      ...closeOnce(m, 'referred-and-seen'),
    ],
    'referral-closed': () => [record({ type: 'closed', outcome: 'referral-closed-by-doctor' })],
  },
  readers: {
    'coming-day': (text, m) => {
      const got = readDate(text, dateRule(m));
      return got.ok ? { ok: true, value: { value: dayText(got.value) } } : got;
    },
  },
  instants: {
    'sampling-day': (m) => {
      const day = dayOf(m, 'sampling-day');
      if (!day) return null;
      return Math.max(m.now, instantOf(day, m.world.programme.daytime.from, zoneOf(m)));
    },
    'day-after-referral': (m) => {
      const day = dayOf(m, 'referral-day');
      return day ? instantOf(addDays(day, 1), m.world.programme.daytime.from, zoneOf(m)) : null;
    },
  },
  values: {
    ...adviceValues,
    why: { of: whyText, sample: 'solid, over 10 mm, tiny white dots' },
    aboutLump: { of: aboutLumpText, sample: ' It is about the RIGHT lump, 22 mm.' },
    toldWhy: { of: toldWhyText, sample: ' Why: hoarse.' },
    growthNote: { of: growthNoteText, sample: '' },
    others: { of: othersText, sample: '' },
    guide: { of: guideText, sample: ', guided by ultrasound' },
    guideMust: { of: guideMustText, sample: '' },
    waitNotSame: { of: waitNotSameText, sample: '' },
    // One screen a lump: what is asked stands on the last.
    sampleScreens: {
      of: sampleScreens,
      sample: 'AK: RIGHT lump, 22 mm: needle ADVISED, guided by ultrasound. Why: solid, over 10 mm, tiny white dots.',
    },
    referLook: { of: referLookText, sample: '' },
    referHow: { of: referHowText, sample: 'REFER FIRST' },
    missingSteps: { of: missingSteps, sample: 'ultrasound' },
    findingsSay: { of: findingsSayText, sample: '' },
    alsoWhy: { of: alsoWhyText, sample: '' },
    cautionsText: { of: cautionsText, sample: 'AK: The TSH is not known: measure it when you can.' },
    referredFor: { of: referredForText, sample: 'urgent referral' },
    reviewWhen: { of: reviewWhenText, sample: 'in 6-12 months' },
    needleDay: {
      of: (m) => {
        // A day of before the supplies lacked is not kept.
        const { 'sampling-day': said = 0, lacking = 0 } = m.case?.answeredAt ?? {};
        const day = said > lacking && comesYet(m, dayOf(m, 'sampling-day')) ? dayIn(m, 'sampling-day') : '';
        const key = day === '' ? 'duty.needle-no-day' : 'duty.needle-day';
        return m.world.texts.render(m.person.locale, key, () => day);
      },
      sample: 'Planned: 30 MAR.',
    },
    samplingDay: { of: (m) => dayIn(m, 'sampling-day'), sample: '30 MAR' },
    dayIs: {
      of: (m) => {
        const day = dayOf(m, 'sampling-day');
        const isPast = day !== null && dayText(day) < dayText(localTime(m.now, zoneOf(m)));
        const key = isPast ? 'decision.day-past' : 'decision.day-today';
        return m.world.texts.render(m.person.locale, key, () => dayIn(m, 'sampling-day'));
      },
      sample: 'the needle is today',
    },
    // The morning of today is over.
    askThen: {
      of: (m) => {
        const day = dayOf(m, 'sampling-day');
        const isNow = day !== null && instantOf(day, m.world.programme.daytime.from, zoneOf(m)) <= m.now;
        const key = isNow ? 'decision.ask-now' : 'decision.ask-that-day';
        return m.world.texts.render(m.person.locale, key, () => '');
      },
      sample: 'I ask you that morning.',
    },
    lookDay: {
      of: (m) => {
        const day = parseDay(m.case?.notSampled?.reviewOn ?? '');
        return day ? `${dayWords(day, m.world.texts.months(m.person.locale))} ${day.year}` : '';
      },
      sample: '26 MAR 2031',
    },
    referralDay: { of: (m) => dayIn(m, 'referral-day'), sample: '30 MAR' },
  },
};
