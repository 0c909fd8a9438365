/** Acting on a result: told in person, sent, seen; each step with its day. */

import type { FurtherAnswers } from '../../case/answers.ts';
import { currentResult, specimenOf } from '../../case/case.ts';
import { isLumpGone } from '../../case/duty.ts';
import { unreadable } from '../answers/answer.ts';
import { readChoice } from '../answers/choice.ts';
import { readDate } from '../answers/date.ts';
import { tidy } from '../answers/reply.ts';
import { type Act, type AnswerRecorder, type Matter, type Moment, record } from '../moment.ts';
import { durationOf } from '../programme.ts';
import { addDays, dayText, instantOf, parseDay } from '../schedule.ts';
import { actionWords } from './action-words.ts';
import { askAgainOn } from './again.ts';
import { settleQuestion } from './close-question.ts';
import { textAnswer, zoneOf } from './common.ts';
import { dateRule } from './days.ts';
import { discordantQuestion, openAboutResult, refersBy } from './filing.ts';
import { optionsOf } from './findings-readers.ts';
import { appointmentOf, reviewDay, specimenId } from './result-days.ts';
import { resultKind, resultKinds } from './result-kind.ts';

/** The patient was spoken with: the doctors need not be asked for a phone call any more. */
function told(moment: Moment, outcome: 'agrees' | 'refuses'): readonly Act[] {
  const specimen = specimenId(moment);
  const open = moment.questions.filter(
    (one) =>
      one.about === 'phoned' && one.caseId === moment.case?.id && one.item === specimen && one.answeredAt === null,
  );
  return [
    record({ type: 'told', specimen, outcome }),
    ...open.flatMap((one) =>
      settleQuestion(one, {
        ...{ now: moment.now, by: moment.person.id, answer: 'told-in-person' },
        tell: 'action.told-for-doctor',
      }),
    ),
  ];
}

const acknowledged: AnswerRecorder = (moment, question, answer) => {
  const specimen = moment.case ? specimenOf(moment.case, question.item) : null;
  if (!specimen) return [];
  const read = record({ type: 'acknowledged', specimen: specimen.id, answer });
  // The patient was seen before a doctor had read the result: this was all that it waited for, unless more is to be done here.
  const isAll = specimen.seen === true && specimen.end === null && !goesOn.has(answer);
  return isAll ? [read, attendedEnd(specimen.id)] : [read];
};

/** Answers after which the clinic has something to do, wherever the patient was seen. */
const goesOn: ReadonlySet<string> = new Set(['repeat', 'agree']);

function attendedEnd(specimen: string): Act {
  return record({ type: 'specimen-closed', specimen, end: 'attended' });
}

/** Nothing is closed before a doctor has read it, where one was asked. */
function isUnread(moment: Moment): boolean {
  const { acknowledgedAt } = moment.specimen!;
  return acknowledgedAt === null && openAboutResult(moment, specimenId(moment)).length > 0;
}

/** Ends a specimen on the doctor's word, with what the clinic had said. */
function endByDoctor(moment: Moment): readonly Act[] {
  const specimen = moment.specimen!;
  const refused = waysOn(moment) === 'repeat' ? 'repeat-declined' : 'refused';
  const end = specimen.told === 'refuses' ? refused : 'not-found';
  return [
    record({ type: 'specimen-closed', specimen: specimen.id, end }),
    // What else is still asked about it needs no answer any more.
    ...openAboutResult(moment, specimen.id).flatMap((one) =>
      settleQuestion(one, { now: moment.now, by: moment.person.id, answer: 'closed-by-doctor' }),
    ),
  ];
}

/** What the patient is told to do: the doctor's word first, then what the result asks for by itself. */
function waysOn(moment: Moment): 'tell' | 'repeat' | 'benign' | 'node-benign' {
  const advice = moment.specimen?.acknowledgement ?? '';
  if (refersBy.has(advice)) return 'tell';
  if (advice === 'repeat') return 'repeat';
  if (advice === 'agree') return 'benign';
  const kind = resultKind(moment.case!, specimenId(moment));
  if (kind === 'node-repeat') return 'repeat';
  return kind === 'repeat' || kind === 'benign' || kind === 'node-benign' ? kind : 'tell';
}

function repeatSeen(moment: Moment): boolean {
  return moment.specimen?.acknowledgement === 'repeat';
}

function repeatClosed(moment: Moment): Act {
  return record({ type: 'specimen-closed', specimen: specimenId(moment), end: 'repeat-booked' });
}

export const action: Matter = {
  decisions: {
    'result-kind': { outcomes: resultKinds, decide: (m) => resultKind(m.case!, specimenId(m)) },
    // Types that can close the airway: it is asked for before anything else.
    'airway-at-risk': {
      outcomes: ['yes', 'no'],
      decide: (m) => {
        const types = currentResult(m.specimen!)?.result.types ?? [];
        return types.includes('anaplastic') || types.includes('lymphoma') ? 'yes' : 'no';
      },
    },
    'doctors-advice': {
      outcomes: ['refer', 'repeat', 'agree', 'none'],
      decide: (m) => {
        const said = m.specimen?.acknowledgement ?? '';
        if (refersBy.has(said)) return 'refer';
        return said === 'repeat' || said === 'agree' ? said : 'none';
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
      outcomes: ['no', 'agreed', 'appointed', 'over'],
      decide: (m) => {
        if (m.specimen?.end === 'attended') return 'over';
        if (m.specimen?.told !== 'agrees' || m.specimen.seen === false) return 'no';
        // Told of another needle, or of none, not of a specialist.
        if (textAnswer(m, 'repeat-day', specimenId(m)) !== '' || isLumpGone(m.case!, m.specimen)) return 'no';
        return m.specimen.appointedOn === null ? 'agreed' : 'appointed';
      },
    },
    'is-over': { outcomes: ['yes', 'no'], decide: (m) => (m.specimen?.end === null ? 'no' : 'yes') },
    'asks-again': { outcomes: ['tell', 'repeat', 'benign', 'node-benign'], decide: waysOn },
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
      ...(isUnread(m) ? [] : [attendedEnd(specimenId(m))]),
    ],
    'not-seen': (m) => [record({ type: 'attended', specimen: specimenId(m), seen: false })],
    // Nothing is closed before a doctor has seen it.
    'repeat-booked': (m) => [...told(m, 'agrees'), ...(repeatSeen(m) ? [repeatClosed(m)] : [])],
    'repeat-acknowledged': (m) => (m.specimen?.end === null ? [repeatClosed(m)] : []),
    reviewed: (m) => [
      ...told(m, 'agrees'),
      askAgainOn(m, reviewDay(m)),
      record({ type: 'specimen-closed', specimen: specimenId(m), end: 'reviewed' }),
    ],
    'end-by-doctor': endByDoctor,
    // "Call me" is no decision: nothing comes next until a doctor has said what.
    'ask-doctor-again': () => [{ do: 'question', question: discordantQuestion }],
  },
  readers: {
    // A digit, or the first option with the day: `3 30 MAR`.
    'one-with-day': (text, m) => {
      const options = optionsOf(m);
      const alone = readChoice(text, options);
      if (alone.ok) return { ok: true, value: { value: alone.value, outcome: alone.value } };
      const [first] = options;
      const typed = tidy(text);
      const digit = first?.reply ?? '';
      const rest = /^[\s,.:;-]+(.+)$/s.exec(typed.slice(digit.length));
      if (!first || !typed.startsWith(digit) || !rest) return unreadable('not-an-option');
      const day = readDate(rest[1]!, dateRule(m));
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
    'refer-first': acknowledged,
    typed: acknowledged,
    'node-urgent': acknowledged,
    'node-treat': acknowledged,
    'node-repeat': acknowledged,
    'node-second': acknowledged,
    'nothing-left': acknowledged,
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
  values: actionWords,
};
