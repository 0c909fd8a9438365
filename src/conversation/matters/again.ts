/** A patient whom the site knows comes again: for another needle, or to be looked at again. */
import { answered } from '../../case/answers.ts';
import { beforeNeedleStatuses } from '../../case/bedside.ts';
import { answerOf, type Case } from '../../case/case.ts';
import { sizesSoFar } from '../../case/earlier.ts';
import type { CaseEvent } from '../../case/events.ts';
import type { Interpreter } from '../interpret.ts';
import type { Act, Matter, Moment } from '../moment.ts';
import { siteOf } from '../programme.ts';
import { type Day, dayText, instantOf, localTime, parseDay } from '../schedule.ts';
import { idleFrame } from '../state.ts';
import type { Turn } from '../turn.ts';
import { settleQuestion } from './close-question.ts';
import { caseByCode, refuseCode } from './codes.ts';
import { dayAt, dayWords, readerZone, textAnswer, zoneOf } from './common.ts';
import { resultQuestions } from './filing.ts';
import { tagFor } from './findings.ts';
import { lastAlarmAt } from './hindrances.ts';
import { samplesSoFar } from './result-kind.ts';

/**
 * `NEW 48291354`: the patient of an earlier case comes for another needle. Who it is comes along, and what the earlier
 * samples gave and how big the nodules were, so that a second unreadable sample and growth are known; everything else is asked anew.
 */
export function needleAgain(turn: Turn, interpreter: Interpreter, code: string | null): void {
  const person = interpreter.person;
  const before = code === null ? null : caseByCode(turn, person, code);
  if (code === null || !before || before.siteId !== person.siteId) {
    if (code === null) turn.say(person, 'desk.wrong-code', { frame: null, caseId: null });
    else refuseCode(turn, person, code);
    turn.disturbed = true;
    return;
  }
  turn.aboutCaseId = before.id;
  const here = turn.moment({ ...idleFrame, flow: 'new' }, before.id, person);
  if (isBeforeNeedle(before)) {
    // Code pencilled, no needle yet: the same case goes on, and there are no two.
    turn.carryOut(goOnWith(here, before), idleFrame, before.id);
    turn.say(person, 'new.going-on', { frame: null, caseId: before.id });
    turn.disturbed = true;
    return;
  }
  turn.carryOut(endBooked(here, before), idleFrame, before.id);
  const caseId = turn.nextId('c');
  const moment = turn.moment({ ...idleFrame, flow: 'new' }, null, person);
  const ended = turn.caseOf(before.id)?.status === 'closed' ? before.id : null;
  for (const event of openedAgain(moment, before, ended)) turn.record(caseId, event);
  interpreter.run('new', { caseId });
}

/** How a case begins that follows another one of the same patient; `ended`: that one, when it has just been closed. */
function openedAgain(moment: Moment, before: Case, ended: string | null): readonly CaseEvent[] {
  const age = answerOf(before, 'patient.birthYear') ?? answerOf(before, 'patient.ageYears') ?? '';
  const named = ['patient.initials', 'patient.sex', 'patient.birthYear', 'patient.ageYears'] as const;
  const who = named.flatMap((field): CaseEvent[] => {
    const value = answerOf(before, field);
    return value === undefined || value === null ? [] : [answered(field, value)];
  });
  return [
    {
      type: 'opened',
      tag: tagFor(moment, String(answerOf(before, 'patient.initials')), String(age).slice(-2), ended),
      siteId: before.siteId,
      ownerId: moment.person.id,
      practice: before.practice,
      earlierCaseId: before.id,
    },
    ...who,
    ...broughtAlong(moment, before),
  ];
}

/** What a case knows of the one before it: what its samples gave, how big the nodules were, an alarm of this day. */
export function broughtAlong(moment: Moment, before: Case): readonly CaseEvent[] {
  const alarm = lastAlarmAt(before, moment.now);
  const zone = siteOf(moment.world.programme, before.siteId).zone;
  const dayOf = (at: number): string => dayText(localTime(at, zone));
  return [
    answered(
      'earlier',
      samplesSoFar(before, dayOf).map((one) => ({ ...one })),
    ),
    answered('earlier-sizes', sizesSoFar(before, dayOf)),
    // An alarm of this day goes with the patient, not with the case.
    ...(alarm === null ? [] : [answered('alarm-before', alarm)]),
  ];
}

/** The patient is here again: what waited in the earlier case for that day, or for a doctor's word on it, is over. */
export function endBooked(moment: Moment, before: Case): readonly Act[] {
  const booked = before.specimens.filter(
    (one) => one.end === null && one.told === 'agrees' && answerOf(before, 'repeat-day', one.id) !== undefined,
  );
  const caseId = before.id;
  const ended = booked.flatMap(({ id }): Act[] => [
    { do: 'record', event: { type: 'specimen-closed', specimen: id, end: 'repeat-booked' }, caseId },
    ...moment.questions
      .filter((one) => resultQuestions.has(one.about) && one.caseId === caseId && one.item === id)
      .filter((one) => one.answeredAt === null)
      .flatMap((open) =>
        settleQuestion(open, { now: moment.now, by: moment.person.id, answer: 'repeated', tell: 'doctor.repeated' }),
      ),
  ]);
  return [...ended, { do: 'end-threads', caseId, traits: { endsWhen: 'seen-again' } }];
}

/**
 * Opened, or decided for a needle that has not been in: a patient who comes now goes on in this case. With a referral or
 * another end on its way the patient is examined anew.
 */
export function isBeforeNeedle(of: Case): boolean {
  if (of.notSampled !== null) return false;
  if (of.specimens.some((one) => one.attempts.length > 0)) return false;
  return beforeNeedleStatuses.has(of.status);
}

/** The open case is carried on by this person, where it stands. */
export function goOnWith(moment: Moment, open: Case): readonly Act[] {
  const { person } = moment;
  if (open.ownerId === person.id) return [{ do: 'raise', caseId: open.id }];
  const vars = { who: person.name };
  const told = { kind: 'tell', key: 'new.taken-on', caseId: open.id, item: null, vars, lane: 'notice' } as const;
  return [
    { do: 'record', event: { type: 'taken-over', ownerId: person.id }, caseId: open.id },
    {
      do: 'post',
      personId: open.ownerId,
      what: { kind: 'hand-over', caseId: open.id, to: person.id },
      caseId: open.id,
    },
    { do: 'post', personId: open.ownerId, what: told, caseId: open.id },
  ];
}

/**
 * The day on which to look again: the clinic is asked for the patient, and the new examination knows this one. It belongs to
 * the case and to nobody's phone, so that it outlasts whoever agreed on it.
 */
export function askAgainOn(moment: Moment, day: Day): Act {
  const { daytime } = moment.world.programme;
  const caseId = moment.case!.id;
  return {
    do: 'post',
    personId: null,
    what: { kind: 'look-again', caseId, item: moment.frame.item, told: 0 },
    caseId,
    at: instantOf(day, daytime.from, zoneOf(moment)),
  };
}

/** The case in which the patient was seen since this one ended, or null. */
export function seenSince(cases: readonly Case[], of: Case): Case | null {
  const later = cases.filter((one) => one.earlierCaseId === of.id && one.openedAt >= of.statusAt);
  return later.find((one) => one.closed !== mergedOutcome) ?? null;
}

/** How a case ends that turned out to be of a patient with an open one. */
export const mergedOutcome = 'same-patient';

export const again: Matter = {
  decisions: {
    'seen-since': {
      outcomes: ['yes', 'no'],
      decide: (m) => (m.case && seenSince(m.cases, m.case) ? 'yes' : 'no'),
    },
  },
  recorders: {
    'review-again': (m) => {
      const day = parseDay(textAnswer(m, 'review-day'));
      return day ? [askAgainOn(m, day)] : [];
    },
    'examine-again': (m) => {
      const caseId = `${m.event.id}:again`;
      return [
        ...openedAgain(m, m.case!, null).map((event): Act => ({ do: 'record', event, caseId })),
        { do: 'post', personId: m.person.id, what: { kind: 'run', flow: 'new', caseId, item: null, vars: {} }, caseId },
      ];
    },
  },
  instants: {
    // Of the flow before this one, in which the day waited in somebody's conversation.
    'review-day': (m) => {
      const day = parseDay(textAnswer(m, 'review-day'));
      return day ? Math.max(m.now, instantOf(day, m.world.programme.daytime.from, zoneOf(m))) : null;
    },
  },
  values: {
    seenSinceDay: {
      of: (m) => {
        const later = m.case && seenSince(m.cases, m.case);
        return later ? dayAt(m, later.openedAt) : '';
      },
      sample: '12 MAR',
    },
    lastSeenDay: {
      of: (m) => {
        const at = m.case?.decided?.at ?? m.case?.openedAt ?? m.now;
        return `${dayAt(m, at)} ${localTime(at, readerZone(m)).year}`;
      },
      sample: '12 MAR 2029',
    },
    reviewOn: {
      of: (m) => {
        const day = parseDay(textAnswer(m, 'review-day'));
        return day ? dayWords(day, m.world.texts.months(m.person.locale)) : '';
      },
      sample: '30 MAR',
    },
  },
};
