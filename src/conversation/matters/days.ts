import { foldWord } from '../../text/fold.ts';
import { isFigure } from '../../text/time-words.ts';
import type { DateRule } from '../answers/date.ts';
import type { Moment } from '../moment.ts';
import { localTime } from '../schedule.ts';
import { zoneOf } from './common.ts';

/** Days ahead that a sampling, a referral or an appointment may lie; more is a slip (our convention). */
const farthestDays = 60;

const weekdayIds = ['mon', 'tue', 'wed', 'thu', 'fri', 'sat', 'sun'];
const monthIds = ['jan', 'feb', 'mar', 'apr', 'may', 'jun', 'jul', 'aug', 'sep', 'oct', 'nov', 'dec'];

/** How a coming day is read in this person's language: months by both its own and the English words. */
export function dateRule(moment: Moment): DateRule {
  const { texts } = moment.world;
  const { locale } = moment.person;
  const months: Record<string, number> = {};
  for (const tag of ['en', locale]) {
    texts.months(tag).forEach((name, index) => {
      // Two numbers with only a space between are no date.
      if (!isFigure(name)) months[foldWord(name)] = index + 1;
      for (const word of texts.words(tag, 'month', monthIds[index]!)) months[word] = index + 1;
    });
  }
  const dayWords: Record<string, number> = {};
  for (const word of texts.words(locale, 'day', 'today')) dayWords[word] = 0;
  for (const word of texts.words(locale, 'day', 'tomorrow')) dayWords[word] = 1;
  const byWord = (field: string, values: readonly (readonly [id: string, value: number])[]): Record<string, number> =>
    Object.fromEntries(values.flatMap(([id, value]) => texts.words(locale, field, id).map((word) => [word, value])));
  const numbered = (ids: readonly string[]) => ids.map((id, index) => [id, index + 1] as const);
  const weekdays = byWord('weekday', numbered(weekdayIds));
  const units = byWord('time-unit', [
    ['day', 1],
    ['week', 7],
  ]);
  const fillers = texts.words(locale, 'day', 'filler');
  const rule = { months, dayWords, weekdays, units, fillers };
  return { ...rule, today: localTime(moment.now, zoneOf(moment)), minDays: 0, maxDays: farthestDays };
}
