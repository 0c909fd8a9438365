/** A patient whom the site knows comes again: for another needle, or to be looked at again. */
import { answerOf, type Case } from '../../case/case.ts';
import { sizesSoFar } from '../../case/earlier.ts';
import type { CaseEvent, Json } from '../../case/events.ts';
import { type Interpreter, topFrame } from '../interpret.ts';
import type { Act, Matter, Moment } from '../moment.ts';
import { siteOf } from '../programme.ts';
import { type Day, dayText, instantOf, localTime, parseDay } from '../schedule.ts';
import { idleFrame } from '../state.ts';
import type { Turn } from '../turn.ts';
import { caseByCode, refuseCode } from './codes.ts';
import { dayAt, dayWords, textAnswer, zoneOf } from './common.ts';
import { resultQuestions, samplesSoFar } from './filing.ts';
import { tagFor } from './findings.ts';
import { lastAlarmAt } from './hindrances.ts';

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
  endBooked(turn, interpreter, before);
  const caseId = turn.nextId('c');
  const moment = turn.moment({ ...idleFrame, flow: 'new' }, null, person);
  const ended = turn.caseOf(before.id)?.status === 'closed' ? before.id : null;
  for (const event of openedAgain(moment, before, ended)) turn.record(caseId, event);
  interpreter.run('new', { caseId });
}

/** How a case begins that follows another one of the same patient; `ended`: that one, when it has just been closed. */
function openedAgain(moment: Moment, before: Case, ended: string | null): readonly CaseEvent[] {
  const { person, now } = moment;
  const age = answerOf(before, 'patient.birthYear') ?? answerOf(before, 'patient.ageYears') ?? '';
  const answered = (field: string, value: Json): CaseEvent => ({ type: 'answered', field, item: null, value });
  const who = ['initials', 'sex', 'birthYear', 'ageYears'].flatMap((name) => {
    const value = answerOf(before, `patient.${name}`);
    return value === undefined || value === null ? [] : [answered(`patient.${name}`, value)];
  });
  // An alarm of this day goes with the patient, not with the case.
  const alarm = lastAlarmAt(before, now);
  const zone = siteOf(moment.world.programme, before.siteId).zone;
  return [
    {
      type: 'opened',
      tag: tagFor(moment, String(answerOf(before, 'patient.initials')), String(age).slice(-2), ended),
      siteId: before.siteId,
      ownerId: person.id,
      practice: before.practice,
      earlierCaseId: before.id,
    },
    ...who,
    answered(
      'earlier',
      samplesSoFar(before).map(({ side, canonical }) => ({ side, canonical })),
    ),
    answered(
      'earlier-sizes',
      sizesSoFar(before, (at) => dayText(localTime(at, zone))),
    ),
    ...(alarm === null ? [] : [answered('alarm-before', alarm)]),
  ];
}

/** The needle that was booked is here: what waited for that day, or for a doctor's word on it, is over. */
function endBooked(turn: Turn, interpreter: Interpreter, before: Case): void {
  const booked = before.specimens.filter(
    (one) => one.end === null && one.told === 'agrees' && answerOf(before, 'repeat-day', one.id) !== undefined,
  );
  for (const { id } of booked) {
    turn.record(before.id, { type: 'specimen-closed', specimen: id, end: 'repeat-booked' });
    for (const open of turn.questions) {
      const about = resultQuestions.has(open.about) && open.caseId === before.id && open.item === id;
      if (!about || open.answeredAt !== null) continue;
      turn.putQuestion({ ...open, answeredAt: turn.now, answeredBy: interpreter.person.id, answer: 'repeated' });
      const vars = { q: open.tag };
      const what = { kind: 'tell', key: 'doctor.repeated', caseId: before.id, item: id, vars, lane: 'notice' } as const;
      for (const doctor of open.askedOf) turn.post(doctor, what, { caseId: before.id });
    }
  }
  for (const thread of turn.threads) {
    const frame = topFrame(thread);
    const waits = frame?.flow === 'action' && /^repeat-(waits|over|open)$/.test(frame.state);
    if (!frame || !waits || thread.caseId !== before.id) continue;
    turn.cancelTimers(frame.id);
    interpreter.remove(thread.id);
  }
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

export const again: Matter = {
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
    lastSeenDay: {
      of: (m) => {
        const at = m.case?.decided?.at ?? m.case?.openedAt ?? m.now;
        return `${dayAt(m, at)} ${localTime(at, zoneOf(m)).year}`;
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
