/** When a doctor hears of a question that waits for the day: nobody is said to be asked before that. */
import { clockWords } from '../../text/time-words.ts';
import { firstAskedAt } from '../first-asked.ts';
import type { Matter, Moment } from '../moment.ts';
import type { Question } from '../state.ts';
import { readerZone } from './common.ts';
import { openAboutResult } from './filing.ts';
import { specimenId } from './result-days.ts';

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

function later(moment: Moment, key: 'asked-at' | 'doctor-asked-at'): string | null {
  const at = stillToGo(moment);
  if (at === null) return null;
  return moment.world.texts.render(moment.person.locale, `common.${key}`, () => clockWords(at, readerZone(moment)));
}

/** What a doctor has to do with this result now: asked at some time, asked, has answered, or nothing that could be said. */
function doctorIs(moment: Moment): string {
  const say = (key: 'doctor-asked' | 'doctor-answered' | 'please-answer'): string =>
    moment.world.texts.render(moment.person.locale, `common.${key}`, () => '');
  // What is asked besides, a phone call, is not about what it means.
  if (moment.specimen?.acknowledgement) return say('doctor-answered');
  if (openAboutResult(moment, specimenId(moment)).length === 0) return say('please-answer');
  return later(moment, 'doctor-asked-at') ?? say('doctor-asked');
}

export const askedWhen: Matter = {
  values: {
    askedWhen: { of: (m) => later(m, 'asked-at') ?? '', sample: '' },
    doctorIs: { of: doctorIs, sample: 'A doctor has answered' },
  },
};
