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

/** What a doctor has to do with this result now: asked, at some time, has it in hand, has answered; or nothing to say. */
function doctorIs(moment: Moment): string {
  const say = (key: 'doctor-asked' | 'doctor-has-it' | 'doctor-answered' | 'please-answer'): string =>
    moment.world.texts.render(moment.person.locale, `common.${key}`, () => '');
  // A phone call that is asked besides is not about what the result means.
  const open = openAboutResult(moment, specimenId(moment)).filter((one) => one.about !== 'phoned');
  if (open.some((one) => one.promiseUntil !== null)) return say('doctor-has-it');
  if (open.length > 0) return later(moment, 'doctor-asked-at') ?? say('doctor-asked');
  return say(moment.specimen?.acknowledgement ? 'doctor-answered' : 'please-answer');
}

export const askedWhen: Matter = {
  values: {
    askedWhen: { of: (m) => later(m, 'asked-at') ?? '', sample: '' },
    doctorIs: { of: doctorIs, sample: 'A doctor has it in hand' },
  },
};
