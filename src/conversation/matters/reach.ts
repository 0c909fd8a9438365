/** A patient who is not found: each try is counted and dated, asked for again, and after the last one a doctor decides. */

import type { Case } from '../../case/case.ts';
import type { KeyIn } from '../../generated/text-keys.ts';
import { clockWords } from '../../text/time-words.ts';
import { type Matter, type Moment, record } from '../moment.ts';
import { ladder } from '../people.ts';
import { durationOf, limitOf } from '../programme.ts';
import { inDaytime, localTime } from '../schedule.ts';
import { dayAt, readerZone, textAnswer, zoneOf } from './common.ts';
import { isPressingResult } from './result-kind.ts';

/** Instants of the tries about a specimen (null: about a referral) since the patient was last reached, oldest first. */
export function triesOf(of: Case, specimen: string | null): readonly number[] {
  return of.tries.filter((one) => one.specimen === specimen).map((one) => one.at);
}

function triesHere(m: Moment): readonly number[] {
  return m.case ? triesOf(m.case, m.specimen?.id ?? null) : [];
}

/** Thy4, Thy5, what is as grave, and an urgent referral: days matter. */
function isPressing(m: Moment): boolean {
  if (m.case?.notSampled?.why === 'referred-urgently') return true;
  const resulted = m.specimen !== null && m.specimen.results.length > 0;
  return resulted && isPressingResult(m.case!, m.specimen.id);
}

/** Number of the try in its round: after a doctor's "try again" a new round begins. */
function numberOf(m: Moment): number {
  const limit = limitOf(m.world.programme, 'reach-tries');
  return ((Math.max(1, triesHere(m).length) - 1) % limit) + 1;
}

/** When the patient is looked for again: by day, so long after the last try as the matter allows. */
function againAt(m: Moment): number {
  const { programme } = m.world;
  const wait = durationOf(programme, isPressing(m) ? 'reach-again-pressing' : 'reach-again');
  return inDaytime((triesHere(m).at(-1) ?? m.now) + wait, zoneOf(m), programme.daytime);
}

function word(m: Moment, key: KeyIn<'reach'>, values: Readonly<Record<string, string>> = {}): string {
  return m.world.texts.render(m.person.locale, `reach.${key}`, (name) => values[name] ?? '');
}

/** `15:40` for today, `5 MAR` for another day. */
function whenText(m: Moment): string {
  const at = againAt(m);
  const zone = readerZone(m);
  const [there, here] = [localTime(at, zone), localTime(m.now, zone)];
  const today = there.day === here.day && there.month === here.month && there.year === here.year;
  return today ? clockWords(at, zone) : dayAt(m, at);
}

/** `4 MAR, 5 MAR`: the days of the tries; two of one day stand twice. */
export function triedDays(m: Moment, tries: readonly number[]): string {
  return tries.map((at) => dayAt(m, at)).join(', ');
}

/** Why only a doctor closes it. */
function stoppedText(m: Moment): string {
  const refuses = m.specimen?.told === 'refuses' || (!m.specimen && textAnswer(m, 'referral-again') === 'refuses');
  const tries = triesHere(m);
  if (refuses || tries.length === 0) return word(m, refuses ? 'refuses' : 'stopped');
  return word(m, 'cannot-be-reached', { when: triedDays(m, tries) });
}

export const reach: Matter = {
  decisions: {
    tries: {
      outcomes: ['again', 'pressing', 'spent'],
      decide: (m) => {
        const { length } = triesHere(m);
        if (length > 0 && length % limitOf(m.world.programme, 'reach-tries') === 0) return 'spent';
        return length === 1 && isPressing(m) ? 'pressing' : 'again';
      },
    },
    // A text sent twice, or two tries within an hour or two, are one try.
    'try-counts': {
      outcomes: ['counted', 'early'],
      decide: (m) => {
        const last = triesHere(m).at(-1) ?? 0;
        return m.now - last < durationOf(m.world.programme, 'reach-apart') ? 'early' : 'counted';
      },
    },
  },
  recorders: {
    'not-reached': (m) => [record({ type: 'not-reached', specimen: m.specimen?.id ?? null })],
    reached: (m) => [record({ type: 'reached', specimen: m.specimen?.id ?? null })],
  },
  instants: {
    'next-try': (m) => {
      const at = againAt(m);
      return at > m.now ? at : m.now + durationOf(m.world.programme, 'unanswered');
    },
  },
  values: {
    tryNumber: { of: (m) => String(numberOf(m)), sample: '1' },
    tryLimit: { of: (m) => String(limitOf(m.world.programme, 'reach-tries')), sample: '3' },
    tryWhen: { of: whenText, sample: '5 MAR' },
    tryNext: {
      of: (m) => (againAt(m) > m.now ? word(m, 'next', { when: whenText(m) }) : word(m, 'next-now')),
      sample: 'Try again 5 MAR',
    },
    tryTold: {
      of: (m) => (isPressing(m) && ladder(m.world, m.now).length > 0 ? word(m, 'doctor-told') : ''),
      sample: ' I told the doctor.',
    },
    tryWhy: {
      of: (m) => {
        const said = m.specimen?.results.at(-1)?.result.code;
        return said ?? m.world.texts.render(m.person.locale, 'desk.why-referred-urgently', () => '');
      },
      sample: 'referred urgently',
    },
    stopped: { of: stoppedText, sample: 'The patient cannot be reached, tried 4 MAR, 5 MAR, 6 MAR.' },
  },
};
