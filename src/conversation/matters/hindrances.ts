/** What stands between a patient and the needle on the day, and what a doctor has allowed all the same. */
import { answered } from '../../case/answers.ts';
import { answerOf, type Case } from '../../case/case.ts';
import type { Hindrance } from '../../clinical/before-needle.ts';
import { type Matter, type Moment, record } from '../moment.ts';
import { dayText, localTime } from '../schedule.ts';
import { closeQuestion } from './close-question.ts';
import { listAnswer, textAnswer, zoneOf } from './common.ts';

/** Instant of the last alarm about this patient, in this case or the one it follows; an open alarm counts as now. */
export function lastAlarmAt(of: Case, now: number): number | null {
  if (of.sos !== null && of.sos.sign !== 'needle-stick') return now;
  const before = answerOf(of, 'alarm-before');
  return of.alarmAt ?? (typeof before === 'number' ? before : null);
}

/** An alarm on this day at the clinic that no doctor has lifted since: no more needles without one. */
export function alarmToday(moment: Moment): boolean {
  const of = moment.case!;
  const at = lastAlarmAt(of, moment.now);
  if (at === null) return false;
  const allowed = answerOf(of, 'alarm-allowed') === true ? (of.answeredAt['alarm-allowed'] ?? 0) : 0;
  const day = (instant: number): string => dayText(localTime(instant, zoneOf(moment)));
  return allowed < at && day(at) === day(moment.now);
}

/** What the checks before the needle have shown and neither rest nor a doctor has put right. */
function hindrancesOfChecks(moment: Moment): readonly Hindrance[] {
  const checks = listAnswer(moment, 'checks');
  const allowed = listAnswer(moment, 'needle-allowed');
  const found: Hindrance[] = [];
  if (checks.includes('sore-skin')) found.push('sore-skin');
  if (checks.includes('high-pressure') && textAnswer(moment, 'pressure') !== 'lower') found.push('high-pressure');
  return found.filter((one) => !allowed.includes(one));
}

/** All of them, the gravest first. */
function hindrancesNow(moment: Moment): readonly Hindrance[] {
  return [...(alarmToday(moment) ? (['alarm-today'] as const) : []), ...hindrancesOfChecks(moment)];
}

/** The first thing among the checks that stops the needle, or null. */
export function firstHindrance(moment: Moment): Hindrance | null {
  return hindrancesOfChecks(moment)[0] ?? null;
}

export const hindrances: Matter = {
  decisions: {
    'needle-today': { outcomes: ['free', 'alarm'], decide: (m) => (alarmToday(m) ? 'alarm' : 'free') },
    // After a doctor's yes the conversation goes on where it was stopped.
    'needle-again': {
      outcomes: ['supplies', 'checks'],
      decide: (m) => (listAnswer(m, 'checks').length === 0 ? 'supplies' : 'checks'),
    },
  },
  recorders: {
    'needle-allowed': (m) => [
      record(answered('needle-allowed', hindrancesOfChecks(m))),
      ...(alarmToday(m) ? [record(answered('alarm-allowed', true))] : []),
    ],
    // The worker did not wait for the doctor: nobody need answer any more.
    'needle-put-off': (m) => closeQuestion(m, 'other-day', 'ready.put-off-for-doctor'),
    'needle-ended': (m) => [
      ...closeQuestion(m, 'other-day', 'ready.put-off-for-doctor'),
      record({ type: 'specimen-closed', specimen: m.specimen!.id, end: 'not-usable' }),
    ],
  },
  values: {
    needleWhy: {
      of: (m) =>
        m.case
          ? hindrancesNow(m)
              .map((one) => m.world.texts.render(m.person.locale, `ready.why-${one}`, () => ''))
              .join(', ')
          : '',
      sample: 'alarm earlier today, skin sore or broken',
    },
  },
};
