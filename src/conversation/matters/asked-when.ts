/** When a doctor hears of a question that waits for the day: nobody is said to be asked before that. */
import { clockWords } from '../../text/time-words.ts';
import { firstAskedAt } from '../first-asked.ts';
import type { Matter, Moment } from '../moment.ts';
import type { Question } from '../state.ts';
import { readerZone } from './common.ts';

/** The instant at which the newest open question about this case, or of this person without one, goes out; null = it did. */
function stillToGo(moment: Moment): number | null {
  const caseId = moment.case?.id ?? null;
  const here = (one: Question): boolean =>
    one.caseId === caseId && one.answeredAt === null && (caseId !== null || one.askedBy === moment.person.id);
  const newest = moment.questions
    .filter(here)
    .reduce<Question | null>((last, one) => (last && last.openedAt > one.openedAt ? last : one), null);
  if (!newest || newest.askedOf.length === 0) return null;
  const at = firstAskedAt(moment.world.programme, newest);
  return at > moment.now ? at : null;
}

function words(moment: Moment, now: 'doctor-asked' | null, later: 'asked-at' | 'doctor-asked-at'): string {
  const at = stillToGo(moment);
  const { locale } = moment.person;
  const { texts } = moment.world;
  if (at !== null) return texts.render(locale, `common.${later}`, () => clockWords(at, readerZone(moment)));
  return now === null ? '' : texts.render(locale, `common.${now}`, () => '');
}

export const askedWhen: Matter = {
  values: {
    askedWhen: { of: (m) => words(m, null, 'asked-at'), sample: '' },
    doctorIs: { of: (m) => words(m, 'doctor-asked', 'doctor-asked-at'), sample: 'Doctor asked' },
  },
};
