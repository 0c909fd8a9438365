import { foldWord } from '../../text/fold.ts';
import type { DateRule } from '../answers/date.ts';
import type { Moment } from '../moment.ts';
import { localTime } from '../schedule.ts';
import { zoneOf } from './common.ts';

/** Days ahead that a sampling, a referral or an appointment may lie; more is a slip (our convention). */
const farthestDays = 60;

/** How a coming day is read in this person's language: months by both its own and the English words. */
export function dateRule(moment: Moment): DateRule {
  const { texts } = moment.world;
  const { locale } = moment.person;
  const months: Record<string, number> = {};
  for (const tag of ['en', locale]) {
    texts.months(tag).forEach((name, index) => {
      months[foldWord(name)] = index + 1;
    });
  }
  const dayWords: Record<string, number> = {};
  for (const word of texts.words(locale, 'day', 'today')) dayWords[word] = 0;
  for (const word of texts.words(locale, 'day', 'tomorrow')) dayWords[word] = 1;
  return { today: localTime(moment.now, zoneOf(moment)), months, dayWords, minDays: 0, maxDays: farthestDays };
}
