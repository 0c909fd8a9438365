/** Acting on a result: told in person, sent, seen; each step with its day. */

import type { FurtherAnswers } from '../../case/answers.ts';
import { currentResult, specimenOf } from '../../case/case.ts';
import type { KeyIn } from '../../generated/text-keys.ts';
import { unreadable } from '../answers/answer.ts';
import { readChoice } from '../answers/choice.ts';
import { readDate } from '../answers/date.ts';
import { tidy } from '../answers/reply.ts';
import { type Act, type AnswerRecorder, type Matter, type Moment, record } from '../moment.ts';
import { durationOf } from '../programme.ts';
import { addDays, type Day, dayText, instantOf, localTime, parseDay } from '../schedule.ts';
import { askAgainOn } from './again.ts';
import { dayWords, textAnswer, zoneOf } from './common.ts';
import { dateRule } from './days.ts';
import { discordantQuestion, type ResultKind, resultAction, resultKind, resultQuestions } from './filing.ts';
import { optionsOf } from './findings-readers.ts';

const kinds: readonly ResultKind[] = ['urgent', 'refer', 'repeat', 'second', 'benign', 'discordant'];

function specimenId(moment: Moment): string {
  return moment.specimen!.id;
}

function resultDay(moment: Moment): Day {
  return localTime(currentResult(moment.specimen!)!.at, zoneOf(moment));
}

/** What does not fit the findings is brought in like a result that cannot be told (our convention). */
function bringDay(moment: Moment): Day {
  if (resultKind(moment.case!, specimenId(moment)) !== 'discordant') return deadlineDay(moment);
  return addDays(resultDay(moment), Math.round(durationOf(moment.world.programme, 'told-thy3') / 86_400_000));
}

/** Last day of the table's deadline, from the day of the result; workdays skip Saturday and Sunday. */
function deadlineDay(moment: Moment): Day {
  const { deadline } = resultAction(moment.case!, specimenId(moment));
  let day = resultDay(moment);
  let left = deadline.latest ?? deadline.notBefore;
  if (deadline.unit === 'days') return addDays(day, left);
  while (left > 0) {
    day = addDays(day, 1);
    const weekday = localTime(instantOf(day, 12, zoneOf(moment)), zoneOf(moment)).weekday;
    if (weekday <= 5) left -= 1;
  }
  return day;
}

function inWords(moment: Moment, day: Day | null): string {
  return day ? dayWords(day, moment.world.texts.months(moment.person.locale)) : '';
}

function words(moment: Moment, key: KeyIn<'action'>, value = ''): string {
  return moment.world.texts.render(moment.person.locale, `action.${key}`, () => value);
}

/** The patient was spoken with: the doctors need not be asked for a phone call any more. */
function told(moment: Moment, outcome: 'agrees' | 'refuses'): readonly Act[] {
  const specimen = specimenId(moment);
  const pressing = resultKind(moment.case!, specimen) === 'urgent';
  const open = moment.questions.filter(
    (one) =>
      one.about === 'phoned' && one.caseId === moment.case?.id && one.item === specimen && one.answeredAt === null,
  );
  return [
    record({ type: 'told', specimen, outcome }),
    ...(pressing && moment.specimen?.phonedAt === null ? [record({ type: 'phoned', specimen })] : []),
    ...open.map(
      (one): Act => ({
        do: 'put-question',
        question: { ...one, answeredAt: moment.now, answeredBy: moment.person.id, answer: 'told-in-person' },
      }),
    ),
  ];
}

const acknowledged: AnswerRecorder = (moment, question, answer) => {
  const specimen = moment.case ? specimenOf(moment.case, question.item) : null;
  return specimen ? [record({ type: 'acknowledged', specimen: specimen.id, answer })] : [];
};

/** Ends a specimen on the doctor's word, with what the clinic had said. */
function endByDoctor(moment: Moment): readonly Act[] {
  const specimen = moment.specimen!;
  const refused = waysOn(moment) === 'repeat' ? 'repeat-declined' : 'refused';
  const end = specimen.told === 'refuses' ? refused : 'not-found';
  // What else is still asked about it needs no answer any more.
  const others = moment.questions.filter(
    (one) =>
      resultQuestions.has(one.about) &&
      one.caseId === moment.case?.id &&
      one.item === specimen.id &&
      one.answeredAt === null,
  );
  return [
    record({ type: 'specimen-closed', specimen: specimen.id, end }),
    ...others.map(
      (one): Act => ({
        do: 'put-question',
        question: { ...one, answeredAt: moment.now, answeredBy: moment.person.id, answer: 'closed-by-doctor' },
      }),
    ),
  ];
}

/** What the patient is told to do: the doctor's word first, then what the result asks for by itself. */
function waysOn(moment: Moment): 'tell' | 'repeat' | 'benign' {
  const advice = moment.specimen?.acknowledgement;
  if (advice === 'refer') return 'tell';
  if (advice === 'repeat') return 'repeat';
  if (advice === 'agree') return 'benign';
  const kind = resultKind(moment.case!, specimenId(moment));
  return kind === 'repeat' || kind === 'benign' ? kind : 'tell';
}

function repeatSeen(moment: Moment): boolean {
  return moment.specimen?.acknowledgement === 'repeat';
}

function repeatClosed(moment: Moment): Act {
  return record({ type: 'specimen-closed', specimen: specimenId(moment), end: 'repeat-booked' });
}

function repeatWhen(moment: Moment): string {
  const { deadline } = resultAction(moment.case!, specimenId(moment));
  const key = deadline.latest === null ? 'repeat-after' : 'repeat-by';
  return words(moment, key, inWords(moment, bringDay(moment)));
}

function appointmentOf(moment: Moment): Day | null {
  return moment.specimen?.appointedOn ? parseDay(moment.specimen.appointedOn) : null;
}

export const action: Matter = {
  decisions: {
    'result-kind': { outcomes: kinds, decide: (m) => resultKind(m.case!, specimenId(m)) },
    'doctors-advice': {
      outcomes: ['refer', 'repeat', 'agree', 'none'],
      decide: (m) => {
        const said = m.specimen?.acknowledgement;
        return said === 'refer' || said === 'repeat' || said === 'agree' ? said : 'none';
      },
    },
    'sends-by-itself': {
      outcomes: ['yes', 'no', 'ask-again'],
      decide: (m) => {
        if (resultKind(m.case!, specimenId(m)) !== 'discordant') return 'yes';
        const { about } = discordantQuestion;
        const here = m.questions.filter((one) => one.caseId === m.case?.id && one.item === specimenId(m));
        return here.some((one) => one.about === about && one.answeredAt === null) ? 'no' : 'ask-again';
      },
    },
    'told-already': {
      outcomes: ['no', 'agreed', 'appointed'],
      decide: (m) => {
        if (m.specimen?.told !== 'agrees' || m.specimen.seen === false) return 'no';
        // Told of another needle, not of a specialist.
        if (textAnswer(m, 'repeat-day', specimenId(m)) !== '') return 'no';
        return m.specimen.appointedOn === null ? 'agreed' : 'appointed';
      },
    },
    'repeat-seen-by-doctor': { outcomes: ['yes', 'no'], decide: (m) => (m.specimen?.end === null ? 'no' : 'yes') },
    'asks-again': { outcomes: ['tell', 'repeat', 'benign'], decide: waysOn },
  },
  recorders: {
    'told-agrees': (m) => told(m, 'agrees'),
    'told-refuses': (m) => told(m, 'refuses'),
    'not-found': (m) => [record({ type: 'told', specimen: specimenId(m), outcome: 'not-found' })],
    'told-with-day': (m) => [
      ...told(m, 'agrees'),
      record({ type: 'appointed', specimen: specimenId(m), on: textAnswer(m, 'appointment', specimenId(m)) }),
    ],
    appointed: (m) => [
      record({ type: 'appointed', specimen: specimenId(m), on: textAnswer(m, 'appointment', specimenId(m)) }),
    ],
    seen: (m) => [
      record({ type: 'attended', specimen: specimenId(m), seen: true }),
      record({ type: 'specimen-closed', specimen: specimenId(m), end: 'attended' }),
    ],
    'not-seen': (m) => [record({ type: 'attended', specimen: specimenId(m), seen: false })],
    // Nothing is closed before a doctor has seen it.
    'repeat-booked': (m) => [...told(m, 'agrees'), ...(repeatSeen(m) ? [repeatClosed(m)] : [])],
    'repeat-acknowledged': (m) => (m.specimen?.end === null ? [repeatClosed(m)] : []),
    reviewed: (m) => [
      ...told(m, 'agrees'),
      askAgainOn(m, deadlineDay(m)),
      record({ type: 'specimen-closed', specimen: specimenId(m), end: 'reviewed' }),
    ],
    'end-by-doctor': endByDoctor,
    // "Call me" is no decision: nothing comes next until a doctor has said what.
    'ask-doctor-again': () => [{ do: 'question', question: discordantQuestion }],
  },
  readers: {
    // A digit, or the first option with the day: `1 30 MAR`.
    'one-with-day': (text, m) => {
      const options = optionsOf(m);
      const alone = readChoice(text, options);
      if (alone.ok) return { ok: true, value: { value: alone.value, outcome: alone.value } };
      const [first] = options;
      const found = /^1[\s,.:;-]+(.+)$/s.exec(tidy(text));
      if (!found || !first) return unreadable('not-an-option');
      const day = readDate(found[1]!, dateRule(m));
      if (!day.ok) return day;
      const on = dayText(day.value);
      const fields: FurtherAnswers = m.ask?.field === 'repeat' ? { 'repeat-day': on } : { appointment: on };
      return { ok: true, value: { value: first.id, fields, outcome: 'with-day' } };
    },
  },
  doctorAnswers: {
    thy1: acknowledged,
    thy3: acknowledged,
    thy4: acknowledged,
    thy5: acknowledged,
    'thy2-discordant': acknowledged,
    phoned: (m, question, answer) => {
      const specimen = m.case ? specimenOf(m.case, question.item) : null;
      if (!specimen) return [];
      if (answer === 'done') return [record({ type: 'phoned', specimen: specimen.id })];
      // Not yet: it is asked again, so nobody is left without the call.
      const firstRungAt = m.now + durationOf(m.world.programme, 'phone-call');
      return [
        { do: 'question', question: { urgency: 'today', about: 'phoned', options: question.options }, firstRungAt },
      ];
    },
  },
  instants: {
    'repeat-morning': (m) => {
      const day = parseDay(textAnswer(m, 'repeat-day', m.specimen?.id ?? null));
      return day ? Math.max(m.now, instantOf(day, m.world.programme.daytime.from, zoneOf(m))) : m.now;
    },
    'day-after-appointment': (m) => {
      const day = appointmentOf(m);
      return day ? instantOf(addDays(day, 1), m.world.programme.daytime.from, zoneOf(m)) : null;
    },
  },
  values: {
    bringBy: { of: (m) => inWords(m, bringDay(m)), sample: '28 MAR' },
    reviewDay: { of: (m) => inWords(m, deadlineDay(m)), sample: '12 SEP' },
    repeatWhen: { of: repeatWhen, sample: 'by 12 APR' },
    repeatWhat: {
      of: (m) => {
        const { next } = resultAction(m.case!, specimenId(m));
        const key =
          next === 'look-for-residual-lump' || next === 'ask-if-cyst-then-repeat' ? next : 'repeat-with-ultrasound';
        return words(m, key, repeatWhen(m));
      },
      sample: 'needle again by 12 APR, with US if you can',
    },
    repeatWhy: {
      of: (m) => {
        const kind = resultKind(m.case!, specimenId(m));
        return words(m, kind === 'refer' || kind === 'discordant' ? `why-${kind}` : 'why-unreadable');
      },
      sample: 'Not readable, neither good nor bad',
    },
    certainty: {
      of: (m) =>
        words(m, m.specimen?.results.at(-1)?.result.canonical === 'Thy5' ? 'certainty-thy5' : 'certainty-thy4'),
      sample: 'suspicious, not certain',
    },
    resultDone: {
      of: (m) => (m.specimen?.seen === true ? words(m, 'seen-already') : ''),
      sample: '',
    },
    amended: { of: (m) => ((m.specimen?.results.length ?? 0) > 1 ? words(m, 'amended-note') : ''), sample: '' },
    appointmentDay: { of: (m) => inWords(m, appointmentOf(m)), sample: '30 MAR' },
    repeatDay: {
      of: (m) => inWords(m, parseDay(textAnswer(m, 'repeat-day', m.specimen?.id ?? null))),
      sample: '30 MAR',
    },
  },
};
