/**
 * Whose name stands on the label. By default it is written by hand and never asked. A programme of privacy mode `in-chat`
 * asks for it where the worker writes by a chat; it is kept in the case, sealed, and goes with the case's key.
 */
import type { FurtherAnswers } from '../../case/answers.ts';
import { answerOf } from '../../case/case.ts';
import type { LabelPerson } from '../../case/label.ts';
import { bornField, nameField } from '../../case/label-person.ts';
import { foldToGsm7 } from '../../text/gsm7.ts';
import { unreadable } from '../answers/answer.ts';
import { readDate } from '../answers/date.ts';
import { channelFacts } from '../channel-facts.ts';
import type { Moment, Reader } from '../moment.ts';
import { dayText, localTime, parseDay } from '../schedule.ts';
import { zoneOf } from './common.ts';
import { dateRule } from './days.ts';

/** Oldest birth date that is taken, days. */
const oldestDays = 120 * 366;
/** Longest name that is taken, characters; it still fits a jar. */
const longestName = 60;

/** A label may hold name and birth date here and now. */
function mayName(moment: Moment): boolean {
  const { programme } = moment.world;
  return programme.privacy === 'in-chat' && channelFacts(moment.channel).isPrivate && !moment.case!.practice;
}

/** Whether the worker is asked for name and birth date before the first label. */
export function labelPersonDue(moment: Moment): 'ask' | 'settled' {
  return mayName(moment) && answerOf(moment.case!, nameField) === undefined ? 'ask' : 'settled';
}

/** Who stands on the label that is shown now. */
export function labelPersonOf(moment: Moment): LabelPerson {
  const of = moment.case!;
  const name = answerOf(of, nameField);
  const born = answerOf(of, bornField);
  const year = answerOf(of, 'patient.birthYear');
  const day = typeof born === 'string' ? parseDay(born) : null;
  if (mayName(moment) && typeof name === 'string' && day) return { mode: 'in-chat', name, born: day };
  return { mode: 'by-hand', birthYear: typeof year === 'number' ? year : null };
}

/** `Tala Fenn 12 MAR 1982`, or `0` for a label that is written by hand. The year must be the one said at the start. */
export const readLabelPerson: Reader = (text, moment) => {
  const plain = foldToGsm7(text).trim().replace(/\s+/gu, ' ');
  if (plain === '0') return answered('by-hand', {});
  const found = /^(?<name>[^\d]+?)[ ,]*(?<born>\d.*)$/u.exec(plain);
  const { name = '', born = '' } = found?.groups ?? {};
  const isName = /^[\p{L}\p{M} .'-]+$/u.test(name) && /\p{L}.*\p{L}/u.test(name) && name.length <= longestName;
  if (!isName || !/\b\d{4}\b/u.test(born)) return unreadable('not-a-date');
  const today = localTime(moment.now, zoneOf(moment));
  const day = readDate(born, { ...dateRule(moment), today, minDays: -oldestDays, maxDays: 0 });
  if (!day.ok) return day;
  const year = answerOf(moment.case!, 'patient.birthYear');
  if (typeof year === 'number' && year !== day.value.year) return answered('other-year', {});
  return answered('given', { [nameField]: name.trim(), [bornField]: dayText(day.value) });
};

function answered(outcome: string, fields: FurtherAnswers): ReturnType<Reader> {
  return { ok: true, value: { value: outcome, fields, outcome } };
}
