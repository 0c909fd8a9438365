/** What texts say about acting on a result. */
import { currentResult } from '../../case/case.ts';
import type { ReviewHow } from '../../clinical/cytology/benign-review.ts';
import type { KeyIn } from '../../generated/text-keys.ts';
import type { Matter, Moment } from '../moment.ts';
import { type Day, dayText, localTime, parseDay } from '../schedule.ts';
import { amendedWords } from './amended-words.ts';
import { dayWords, laboratoryHere, textAnswer, zoneOf } from './common.ts';
import { appointmentOf, bringDay, isFirstDay, reviewDay, specimenId } from './result-days.ts';
import {
  doesCystNotFit,
  earlierSamples,
  nodeActionOf,
  type ResultKind,
  resultAction,
  resultKind,
  reviewOf,
} from './result-kind.ts';

function inWords(moment: Moment, day: Day | null): string {
  return day ? dayWords(day, moment.world.texts.months(moment.person.locale)) : '';
}

/** With the year where it is another one. */
function inWordsWithYear(moment: Moment, day: Day): string {
  const plain = inWords(moment, day);
  return day.year === localTime(moment.now, zoneOf(moment)).year ? plain : `${plain} ${day.year}`;
}

function words(moment: Moment, key: KeyIn<'action'>, value = ''): string {
  return moment.world.texts.render(moment.person.locale, `action.${key}`, () => value, moment.voice);
}

function kindOf(moment: Moment): ResultKind {
  return resultKind(moment.case!, specimenId(moment));
}

function resultHere(moment: Moment): ReturnType<typeof currentResult> {
  return moment.specimen ? currentResult(moment.specimen) : null;
}

/** Where the patient has to go, and why; of a result that asks for no calling in, as the most careful of these. */
const needs: Readonly<Record<ResultKind, KeyIn<'action'>>> = {
  urgent: 'need-urgent',
  refer: 'need-refer',
  second: 'need-second',
  'second-atypia': 'need-second-atypia',
  discordant: 'need-discordant',
  'node-urgent': 'need-node-urgent',
  'node-treat': 'need-node-treat',
  repeat: 'need-refer',
  benign: 'need-refer',
  'node-repeat': 'need-node-urgent',
  'node-second': 'need-node-second',
  'node-benign': 'need-node-urgent',
};

/** How to look again; of a picture that is looked at again if at all, nothing is asked. */
const reviews: Readonly<Record<ReviewHow, KeyIn<'action'> | null>> = {
  'scan-and-needle': 'how-scan-and-needle',
  scan: 'how-scan',
  'scan-now-for-the-pattern': 'how-scan-now-for-the-pattern',
  'scan-if-at-all': null,
};

/** What the clinic has to know before it calls the patient in. */
function needText(moment: Moment): string {
  return words(moment, needs[kindOf(moment)], words(moment, certaintyKey(moment)));
}

function certaintyKey(moment: Moment): KeyIn<'action'> {
  const canonical = resultHere(moment)?.result.canonical;
  if (canonical === 'Thy5') return 'certainty-thy5';
  return canonical === 'Thy4' ? 'certainty-thy4' : 'certainty-named';
}

function repeatWhen(moment: Moment): string {
  return words(moment, isFirstDay(moment) ? 'repeat-after' : 'repeat-by', inWords(moment, bringDay(moment)));
}

function repeatWhatKey(moment: Moment): KeyIn<'action'> {
  if (nodeActionOf(moment.case!, specimenId(moment))) return 'node-needle-again';
  const { next } = resultAction(moment.case!, specimenId(moment));
  return next === 'look-for-residual-lump' || next === 'ask-if-cyst-then-repeat' ? next : 'repeat-with-ultrasound';
}

function repeatWhyKey(moment: Moment): KeyIn<'action'> {
  const kind = kindOf(moment);
  if (kind === 'discordant') return 'why-discordant';
  if (doesCystNotFit(moment.case!, specimenId(moment))) return 'why-cyst-of-solid';
  return kind === 'refer' || kind === 'second-atypia' ? 'why-refer' : 'why-unreadable';
}

/** The laboratory's own word for a type, with what it asks for before any thyroid operation; '' where it names none. */
function typeLine(moment: Moment): string {
  const [type] = resultHere(moment)?.result.types ?? [];
  if (!type || type === 'cancer') return '';
  const lab = laboratoryHere(moment);
  const tests = type === 'medullary' && lab.assays.includes('calcitonin');
  const tested = tests ? words(moment, 'lab-tests-calcitonin', lab.name) : '';
  return `${words(moment, `type-${type}`)}${tested}`;
}

/** Calcitonin before any operation for a result that may be medullary, where the laboratory tests it. */
function calcitoninNote(moment: Moment): string {
  const result = resultHere(moment)?.result;
  const grave = ['Thy3f', 'Thy4', 'Thy5'].includes(result?.canonical ?? '');
  const lab = laboratoryHere(moment);
  return grave && lab.assays.includes('calcitonin') ? words(moment, 'calcitonin-first', lab.name) : '';
}

/** The result before this one and its day, where that was kept. */
function firstNeedle(moment: Moment): string {
  const first = earlierSamples(moment.case!, specimenId(moment)).at(-1);
  const day = first?.on === undefined ? null : parseDay(first.on);
  return first && day ? words(moment, 'first-needle', `${first.canonical} ${inWords(moment, day)}`) : '';
}

/** What a doctor must know of cyst fluid from a lump that was seen solid; '' where it fits. */
function cystNote(moment: Moment): string {
  return doesCystNotFit(moment.case!, specimenId(moment)) ? words(moment, 'cyst-of-solid') : '';
}

function referWhy(moment: Moment): string {
  const kind = kindOf(moment);
  if (resultHere(moment)?.result.types?.[0] === 'cancer') return words(moment, 'refer-why-cancer');
  if (kind === 'second') return `${words(moment, 'refer-why-second')}${firstNeedle(moment)}${cystNote(moment)}`;
  if (kind === 'node-second') return `${words(moment, 'refer-why-second')}${firstNeedle(moment)}`;
  if (kind === 'second-atypia') return `${words(moment, 'refer-why-second-atypia')}${firstNeedle(moment)}`;
  return words(moment, 'refer-why-follicular');
}

/** What of acting on a result is still missing, by the last thing that was recorded of it. */
function actionWaits(moment: Moment): string {
  return moment.world.texts.render(moment.person.locale, `duty.${waitsKey(moment)}`, () => '');
}

function waitsKey({ specimen }: Moment): KeyIn<'duty'> {
  if (specimen?.rejected != null) return 'waits-lab-cannot-use';
  switch (specimen?.told ?? null) {
    case 'refuses':
      return 'waits-refuses';
    case 'not-found':
      return 'waits-found';
    case 'agrees':
      return specimen?.appointedOn == null ? 'waits-day' : 'waits-seen';
    default:
      return 'waits-told';
  }
}

/** Values of the matter. */
export const actionWords: NonNullable<Matter['values']> = {
  need: { of: needText, sample: 'needs a specialist hospital; suspicious, not certain' },
  certainty: { of: (m) => words(m, certaintyKey(m)), sample: 'suspicious, not certain' },
  bringBy: { of: (m) => inWords(m, bringDay(m)), sample: '28 MAR' },
  reviewDay: { of: (m) => inWordsWithYear(m, reviewDay(m)), sample: '12 SEP 2031' },
  reviewHow: {
    of: (m) => {
      const key = reviews[reviewOf(m.case!, specimenId(m)).how];
      return key === null ? '' : words(m, key);
    },
    sample: ' with a new ultrasound and a new needle',
  },
  repeatWhen: { of: repeatWhen, sample: 'by 12 APR' },
  tooEarly: {
    of: (m) => {
      const chosen = parseDay(textAnswer(m, 'repeat-day', m.specimen?.id ?? null));
      if (!chosen || !isFirstDay(m)) return '';
      return dayText(chosen) < dayText(bringDay(m)) ? words(m, 'too-early', inWords(m, bringDay(m))) : '';
    },
    sample: '',
  },
  // An example is a day that may be chosen.
  repeatExample: {
    of: (m) => inWords(m, isFirstDay(m) ? bringDay(m) : localTime(m.now, zoneOf(m))),
    sample: '30 MAR',
  },
  repeatWhat: {
    of: (m) => words(m, repeatWhatKey(m), repeatWhen(m)),
    sample: 'needle again by 12 APR, with US if you can',
  },
  repeatWhy: { of: (m) => words(m, repeatWhyKey(m)), sample: 'Not readable, neither good nor bad' },
  typeLine: { of: typeLine, sample: 'The lab names LYMPHOMA: core biopsy at once, no thyroid operation for it.' },
  typeChoice: {
    of: (m) => {
      const [type] = resultHere(m)?.result.types ?? [];
      return type && type !== 'cancer' ? words(m, `choice-${type}`) : '';
    },
    sample: 'find where it began',
  },
  cystNote: { of: cystNote, sample: '' },
  calcitoninNote: { of: calcitoninNote, sample: '' },
  actionWaits: { of: actionWaits, sample: 'the patient has not been told' },
  referWhy: { of: referWhy, sample: 'the second needle that could not tell' },
  resultDone: { of: (m) => (m.specimen?.seen === true ? words(m, 'seen-already') : ''), sample: '' },
  ...amendedWords,
  appointmentDay: { of: (m) => inWords(m, appointmentOf(m)), sample: '30 MAR' },
  // A needle that was booked before a doctor sent the patient elsewhere.
  needleOff: {
    of: (m) => {
      const day = parseDay(textAnswer(m, 'repeat-day', m.specimen?.id ?? null));
      const shown = inWords(m, day);
      return day === null ? '' : m.world.texts.render(m.person.locale, 'action.needle-off', () => shown);
    },
    sample: '',
  },
  repeatDay: {
    of: (m) => inWords(m, parseDay(textAnswer(m, 'repeat-day', m.specimen?.id ?? null))),
    sample: '30 MAR',
  },
};
