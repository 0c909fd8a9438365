/**
 * "I have it in hand" is a promise with a due time, no end: the question stays open, its ladder pauses, and starts again
 * one rung higher when nothing of what was promised is recorded by then.
 */

import { type Case, type Specimen, specimenOf } from '../case/case.ts';
import { awaitsDoctor } from '../case/duty.ts';
import { assertNever } from '../clinical/assert-never.ts';
import { isAlarmAbout } from './people.ts';
import { durationOf, type Programme } from './programme.ts';
import type { Question } from './state.ts';

/** Choices that promise something and decide nothing. */
const promises: ReadonlySet<string> = new Set(['call-me', 'go-there']);

/** True: this answer says that somebody will do something; the thing itself is not done. */
export function isPromise(question: Question, answer: string): boolean {
  if (promises.has(answer)) return true;
  // Words answer what was asked in words; in an alarm, and where a choice decides, words alone end nothing.
  return answer === 'words' && question.about !== 'asked';
}

/** True: words without a choice leave this question undecided; in an alarm they are help, and of a question in words the answer. */
export function isUndecided(question: Question): boolean {
  if (isAlarmAbout(question.about) || question.about === 'asked') return false;
  return question.options.some((one) => !promises.has(one.id));
}

const ownPromise: Readonly<Record<string, string>> = {
  now: 'promise-now',
  waiting: 'promise-waiting',
  today: 'promise-today',
};

/** How long a promise holds, ms: while a patient is in danger or waits, minutes. */
export function promiseMs(programme: Programme, question: Question): number {
  return durationOf(programme, ownPromise[question.urgency] ?? 'promise');
}

/** True: somebody said that it is in hand, and the time for it is not over. */
export function isHeld(question: Question, now: number): boolean {
  return question.answeredAt === null && question.promiseUntil !== null && question.promiseUntil > now;
}

/** What of a case was done since: nobody needs to be asked again. */
export function isDoneSince(of: Case, question: Question, since: number): boolean {
  if (of.closed !== null) return true;
  const specimen = specimenOf(of, question.item);
  switch (question.about) {
    case 'thy1':
    case 'thy2-discordant':
    case 'thy3':
    case 'thy4':
    case 'thy5':
    case 'refer-first':
    case 'typed':
    case 'node-urgent':
    case 'node-treat':
    case 'node-repeat':
    case 'node-second':
      if (specimen === null || awaitsDoctor(of, specimen)) return false;
      return specimen.end !== null || isTold(specimen) || specimen.phonedAt !== null;
    case 'result-stopped':
    case 'nothing-left':
    case 'unusable':
      return specimen !== null && specimen.end !== null;
    case 'sos':
      return of.sos === null;
    case 'parcel-lost':
      return specimen !== null && (specimen.end !== null || specimen.receivedAt !== null);
    case 'wrong':
      return of.frozen === null;
    case 'asked':
    case 'end':
      return false;
    case 'emergency':
    case 'urgent-referral':
    case 'decision':
    case 'decision-cyst':
    case 'decision-stopped':
    case 'urgent-decision':
    case 'urgent-decision-cyst':
    case 'urgent-decision-stopped':
    case 'referral-stopped':
    case 'too-many-attempts':
    case 'fluid-came':
    case 'before-needle':
    case 'label-mismatch':
    case 'no-sample':
    case 'patient-left':
    case 'left-unwatched':
    case 'no-aftercare-answer':
    case 'phoned':
      return of.statusAt > since || Object.entries(of.answeredAt).some(([field, at]) => at > since && moves(field));
    default:
      return assertNever(question.about);
  }
}

/** Looked for and not found is not told. */
function isTold({ told }: Specimen): boolean {
  return told === 'agrees' || told === 'refuses';
}

/** The day of a referral is given beside an open question and answers nothing of it. */
function moves(field: string): boolean {
  return !field.startsWith('referral-') && field !== 'sos-sign';
}
