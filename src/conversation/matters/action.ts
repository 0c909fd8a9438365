/** Acting on a result: told in person, sent, seen; each step with its day. */
import { specimenOf } from '../../case/case.ts';
import { actionFor } from '../../clinical/cytology/action.ts';
import { unreadable } from '../answers/answer.ts';
import { readChoice } from '../answers/choice.ts';
import { readDate } from '../answers/date.ts';
import { tidy } from '../answers/reply.ts';
import { type Act, type AnswerRecorder, type Matter, type Moment, record } from '../moment.ts';
import { addDays, type Day, dayText, instantOf, localTime, parseDay } from '../schedule.ts';
import { dayWords, textAnswer, zoneOf } from './common.ts';
import { dateRule } from './days.ts';
import { type ResultKind, resultAction, resultKind } from './filing.ts';
import { optionsOf } from './findings-readers.ts';

const kinds: readonly ResultKind[] = ['urgent', 'refer', 'repeat', 'second', 'benign', 'discordant'];

function specimenId(moment: Moment): string {
  return moment.specimen!.id;
}

/** Last day of the table's deadline, from today; workdays skip Saturday and Sunday. */
function deadlineDay(moment: Moment): Day {
  const { deadline } = resultAction(moment.case!, specimenId(moment));
  let day: Day = localTime(moment.now, zoneOf(moment));
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

function words(moment: Moment, key: string, value = ''): string {
  return moment.world.texts.render(moment.person.locale, `action.${key}`, () => value);
}

function told(moment: Moment, outcome: 'agrees' | 'refuses' | 'not-found'): readonly Act[] {
  return [record({ type: 'told', specimen: specimenId(moment), outcome }), ...spoken(moment)];
}

/** Somebody spoke with the patient: the doctors need not be asked for a phone call any more. */
function spoken(moment: Moment): readonly Act[] {
  const open = moment.questions.filter(
    (one) => one.about === 'phoned' && one.caseId === moment.case?.id && one.answeredAt === null,
  );
  return [
    record({ type: 'phoned', specimen: specimenId(moment) }),
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
  const end = specimen.told === 'refuses' ? 'refused' : 'not-found';
  return [record({ type: 'specimen-closed', specimen: specimen.id, end })];
}

function appointmentOf(moment: Moment): Day | null {
  return moment.specimen?.appointedOn ? parseDay(moment.specimen.appointedOn) : null;
}

export const action: Matter = {
  decisions: {
    'result-kind': { outcomes: kinds, decide: (m) => resultKind(m.case!, specimenId(m)) },
  },
  recorders: {
    'told-agrees': (m) => told(m, 'agrees'),
    'told-refuses': (m) => told(m, 'refuses'),
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
    'repeat-booked': (m) => [
      ...told(m, 'agrees'),
      record({ type: 'specimen-closed', specimen: specimenId(m), end: 'repeat-booked' }),
    ],
    reviewed: (m) => [
      ...told(m, 'agrees'),
      record({ type: 'specimen-closed', specimen: specimenId(m), end: 'reviewed' }),
    ],
    'end-by-doctor': endByDoctor,
  },
  readers: {
    // `1`, `2`, `3`, or `1 30 MAR` with the day of the appointment.
    told: (text, m) => {
      const options = optionsOf(m);
      const alone = readChoice(text, options);
      if (alone.ok) return { ok: true, value: { value: alone.value, outcome: alone.value } };
      const found = /^1[\s,.:;-]+(.+)$/s.exec(tidy(text));
      if (!found) return unreadable('not-an-option');
      const day = readDate(found[1]!, dateRule(m));
      if (!day.ok) return day;
      return {
        ok: true,
        value: { value: 'agrees', fields: { appointment: dayText(day.value) }, outcome: 'with-day' },
      };
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
      return [{ do: 'question', question: { urgency: 'today', about: 'phoned', options: question.options } }];
    },
  },
  instants: {
    'day-after-appointment': (m) => {
      const day = appointmentOf(m);
      return day ? instantOf(addDays(day, 1), m.world.programme.daytime.from, zoneOf(m)) : null;
    },
  },
  values: {
    bringBy: { of: (m) => inWords(m, deadlineDay(m)), sample: '28 MAR' },
    reviewDay: { of: (m) => inWords(m, deadlineDay(m)), sample: '12 SEP' },
    repeatWhen: {
      of: (m) => {
        const { deadline } = actionFor(m.specimen!.results.at(-1)!.result.code as Parameters<typeof actionFor>[0]);
        return words(m, deadline.latest === null ? 'repeat-after' : 'repeat-by', inWords(m, deadlineDay(m)));
      },
      sample: 'by 12 APR',
    },
    certainty: {
      of: (m) => words(m, `certainty-${(m.specimen?.results.at(-1)?.result.canonical ?? 'Thy4').toLowerCase()}`),
      sample: 'suspicious, not certain',
    },
    amended: { of: (m) => ((m.specimen?.results.length ?? 0) > 1 ? words(m, 'amended-note') : ''), sample: '' },
    appointmentDay: { of: (m) => inWords(m, appointmentOf(m)), sample: '30 MAR' },
    repeatDay: {
      of: (m) => inWords(m, parseDay(textAnswer(m, 'repeat-day', m.specimen?.id ?? null))),
      sample: '30 MAR',
    },
  },
};
