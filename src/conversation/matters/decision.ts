/** The decision: weighed once, kept in the history with its whole reasoning, said with its reasons and cautions. */

import { answered } from '../../case/answers.ts';
import { answerOf } from '../../case/case.ts';
import { asJson } from '../../case/stored.ts';
import { proposedNodule } from '../../case/stored-events.ts';
import { followUpMonths } from '../../clinical/follow-up-interval.ts';
import { assess, weighCase } from '../../clinical/indication.ts';
import type { Proposed } from '../../clinical/proposed.ts';
import { decisions } from '../../clinical/reasons.ts';
import { bySuspicion } from '../../clinical/several-nodules.ts';
import { readDate } from '../answers/date.ts';
import type { Act, Matter, Moment } from '../moment.ts';
import { record } from '../moment.ts';
import { addDays, type Day, dayText, instantOf, localTime, parseDay } from '../schedule.ts';
import { askAgainOn } from './again.ts';
import { dayWords, textAnswer, zoneOf } from './common.ts';
import { dateRule } from './days.ts';
import { decidedOf } from './decided.ts';
import { cautionsText, decisionWords, missingSteps, othersText, proposedText, whyText } from './decision-words.ts';
import { findingsNow } from './findings.ts';

/** Months after which to look again: the governing policy's own interval, else half a year (our convention). */
function reviewMonths(moment: Moment): readonly [number, number] {
  const { policy } = moment.world.programme;
  const assessment = decidedOf(moment);
  const levels = assessment?.nodules.flatMap((one) => [...(one.policies[policy].levels ?? [])]) ?? [];
  return followUpMonths(policy, levels)?.firstMonths ?? [6, 6];
}

function decide(moment: Moment): readonly Act[] {
  const { policy } = moment.world.programme;
  const findings = findingsNow(moment);
  const assessment = assess(findings, { policy });
  return [
    record({
      type: 'decided',
      decision: assessment.decision,
      policy,
      assessment: asJson(assessment),
      proposed: assessment.proposed,
    }),
  ];
}

/** A doctor may let a nodule be sampled that the rule left open: the most suspicious one is then proposed. */
function propose(moment: Moment): readonly Act[] {
  const before = moment.case!.decided;
  if (!before || before.proposed.length > 0) return [];
  const { nodules } = weighCase(findingsNow(moment), moment.world.programme.policy);
  const first = [...nodules].sort(bySuspicion)[0]?.nodule.id;
  const { at: _at, ...rest } = before;
  const felt: Proposed = { kind: 'nodule', nodule: null, site: null, mm: null };
  return [
    record({
      type: 'decided',
      ...rest,
      proposed: [first === undefined ? felt : proposedNodule(moment.case!, first)],
    }),
  ];
}

function endWith(why: string, reviewOn: string | null): readonly Act[] {
  return [record({ type: 'not-sampled', why, reviewOn }), record({ type: 'closed', outcome: why })];
}

function reviewDay(moment: Moment): Day {
  const today = localTime(moment.now, zoneOf(moment));
  const months = today.month - 1 + reviewMonths(moment)[0];
  const year = today.year + Math.floor(months / 12);
  return { year, month: (months % 12) + 1, day: Math.min(today.day, 28) };
}

type PlannedDay = 'sampling-day' | 'referral-day';

function dayOf(moment: Moment, field: PlannedDay): ReturnType<typeof parseDay> {
  return parseDay(textAnswer(moment, field));
}

function dayIn(moment: Moment, field: PlannedDay): string {
  const day = dayOf(moment, field);
  return day ? dayWords(day, moment.world.texts.months(moment.person.locale)) : '';
}

export const decision: Matter = {
  decisions: {
    decision: { outcomes: decisions, decide: (m) => m.case!.decided!.decision },
    'sample-too': { outcomes: ['yes', 'no', 'ask-doctor'], decide: (m) => decidedOf(m)?.sampleToo ?? 'ask-doctor' },
  },
  recorders: {
    'decide-case': decide,
    propose,
    'urgent-advice': () => [record({ type: 'not-sampled', why: 'referred-urgently', reviewOn: null })],
    'refer-advice': () => [record({ type: 'not-sampled', why: 'referred', reviewOn: null })],
    'start-referral': (m) => [
      {
        do: 'post',
        personId: m.person.id,
        what: { kind: 'run', flow: 'referral', caseId: m.case!.id, item: null, vars: {} },
      },
    ],
    'follow-up-advice': (m) => [
      ...endWith('follow-up', dayText(reviewDay(m))),
      ...(m.case!.practice ? [] : [askAgainOn(m, reviewDay(m))]),
    ],
    'no-sampling-advice': () => endWith('no-sampling', null),
    'forget-steps': () => (['examined', 'ultrasound.done'] as const).map((field) => record(answered(field, null))),
    'referral-done': (m) =>
      m.case!.specimens.length > 0 ? [] : [record({ type: 'closed', outcome: 'referred-and-seen' })],
    'referral-closed': (m) =>
      m.case!.specimens.length > 0 ? [] : [record({ type: 'closed', outcome: 'referral-closed-by-doctor' })],
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
    why: { of: whyText, sample: 'solid, over 10 mm, dark, tiny dots' },
    others: { of: othersText, sample: ' ACR, EU, ATA agree.' },
    proposed: { of: proposedText, sample: 'R nodule' },
    guide: { of: (m) => guideText(m), sample: ', guide by US' },
    missingSteps: { of: missingSteps, sample: 'ultrasound' },
    cautionsText: { of: cautionsText, sample: 'TSH not known.' },
    decisionWords: { of: decisionWords, sample: 'urgent referral' },
    reviewWhen: {
      of: (m) => {
        const [least, most] = reviewMonths(m);
        const months = least === most ? String(least) : `${least}-${most}`;
        return m.world.texts.render(m.person.locale, 'decision.in-months', () => months);
      },
      sample: 'in 6-12 months',
    },
    samplingDay: { of: (m) => dayIn(m, 'sampling-day'), sample: '30 MAR' },
    referralDay: { of: (m) => dayIn(m, 'referral-day'), sample: '30 MAR' },
  },
};

function guideText(moment: Moment): string {
  const done = answerOf(moment.case!, 'ultrasound.done') === true;
  const key = decidedOf(moment)?.guidance === 'required' ? 'decision.guide-required' : 'decision.guide-recommended';
  return done ? moment.world.texts.render(moment.person.locale, key, () => '') : '';
}
