/** What stands between a patient and the needle on the day, and what a doctor has allowed all the same. */

import { answered } from '../../case/answers.ts';
import { answerOf, type Case } from '../../case/case.ts';
import type { Hindrance } from '../../clinical/before-needle.ts';
import type { TextKey } from '../../generated/text-keys.ts';
import { type Matter, type Moment, record } from '../moment.ts';
import { dayText, localTime } from '../schedule.ts';
import { closeQuestion } from './close-question.ts';
import { listAnswer, textAnswer, zoneOf } from './common.ts';
import { siteGuides } from './guidance.ts';

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

/** Whether the lump beats must be known of a needle that no ultrasound guides. */
function pulseMatters(moment: Moment): boolean {
  return !siteGuides(moment);
}

/** What the questions before the needle have shown and neither rest nor a doctor has put right. */
function hindrancesFound(moment: Moment): readonly Hindrance[] {
  const allowed = listAnswer(moment, 'needle-allowed');
  return hindrancesSaid(moment).filter((one) => !allowed.includes(one));
}

/** The same, with what a doctor has allowed. */
function hindrancesSaid(moment: Moment): readonly Hindrance[] {
  const dangers = listAnswer(moment, 'dangers');
  const found: Hindrance[] = [];
  if (pulseMatters(moment) && listAnswer(moment, 'lump').includes('unknown')) found.push('pulse-unknown');
  if (dangers.includes('sore-skin')) found.push('sore-skin');
  if (dangers.includes('high-pressure') && textAnswer(moment, 'pressure') !== 'lower') found.push('high-pressure');
  return found;
}

/** All of them, the gravest first. */
function hindrancesNow(moment: Moment): readonly Hindrance[] {
  return [...(alarmToday(moment) ? (['alarm-today'] as const) : []), ...hindrancesFound(moment)];
}

/**
 * What a doctor is asked about, in words. Asked on a later day than the alarm it is still that alarm; asked once more, after an
 * answer that was taken back, it is what was allowed by it.
 */
function needleWhyText(moment: Moment): string {
  const word = (key: TextKey) => moment.world.texts.render(moment.person.locale, key, () => '');
  const now = hindrancesNow(moment);
  const before = lastAlarmAt(moment.case!, moment.now) === null ? hindrancesSaid(moment) : (['alarm-before'] as const);
  const all: readonly (Hindrance | 'alarm-before')[] = now.length > 0 ? now : before;
  return all.length === 0 ? word('doctor.why-before') : all.map((one) => word(`ready.why-${one}`)).join(', ');
}

export const hindrances: Matter = {
  decisions: {
    'needle-today': {
      outcomes: ['free', 'alarm', 'not-done'],
      decide: (m) => {
        if (m.frame.vars.notDone === true)
          return { outcome: 'not-done', acts: [{ do: 'vars', vars: { notDone: null } }] };
        return alarmToday(m) ? 'alarm' : 'free';
      },
    },
    // After a doctor's yes the conversation goes on where it was stopped.
    'needle-again': {
      outcomes: ['supplies', 'checks', 'dangers'],
      decide: (m) => {
        if (listAnswer(m, 'dangers').length > 0) return 'dangers';
        return listAnswer(m, 'checks').length === 0 ? 'supplies' : 'checks';
      },
    },
    'pulse-known': {
      outcomes: ['ask', 'settled', 'pulsates'],
      decide: (m) => {
        const lump = answerOf(m.case!, 'lump') ?? null;
        if (lump?.includes('pulsates')) return 'pulsates';
        // Not felt at the examination: the finger that can tell is beside the patient now, the doctor is far away.
        const open = lump === null || hindrancesFound(m).includes('pulse-unknown');
        return pulseMatters(m) && open ? 'ask' : 'settled';
      },
    },
    'pulse-felt': {
      outcomes: ['fine', 'pulsates', 'moves-with-tongue', 'unknown'],
      decide: (m) => {
        const said = listAnswer(m, 'lump');
        if (said.includes('pulsates')) return 'pulsates';
        if (said.includes('moves-with-tongue')) return 'moves-with-tongue';
        return said.includes('unknown') ? 'unknown' : 'fine';
      },
    },
    // The gravest first. What a doctor has allowed, or rest has put right, is none any more.
    dangers: {
      outcomes: ['none', 'breathless-lying', 'not-still', 'sore-skin', 'high-pressure', 'pulse-unknown'],
      decide: (m) => {
        const said = listAnswer(m, 'dangers');
        if (said.includes('breathless-lying')) return 'breathless-lying';
        if (said.includes('not-still')) return 'not-still';
        const first = hindrancesFound(m)[0];
        return first === undefined || first === 'alarm-today' ? 'none' : first;
      },
    },
  },
  recorders: {
    'needle-allowed': (m) => [
      record(answered('needle-allowed', [...(answerOf(m.case!, 'needle-allowed') ?? []), ...hindrancesFound(m)])),
      ...(alarmToday(m) ? [record(answered('alarm-allowed', true))] : []),
    ],
    // Who cannot lie flat has a sign of danger, and no needle goes in here today.
    'breathless-lying': (m) => [
      record(
        answered('dangerSigns', [
          ...new Set([...listAnswer(m, 'dangerSigns').filter((one) => one !== 'unknown'), 'breathless' as const]),
        ]),
      ),
      record(answered('go-ahead', 'refer-only')),
    ],
    'no-needle-now': () => [record(answered('go-ahead', null))],
    // The worker did not wait for the doctor: nobody need answer any more.
    'needle-put-off': (m) => closeQuestion(m, 'other-day', 'ready.put-off-for-doctor'),
    'needle-ended': (m) => [
      ...closeQuestion(m, 'other-day', 'ready.put-off-for-doctor'),
      record({ type: 'specimen-closed', specimen: m.specimen!.id, end: 'not-usable' }),
    ],
  },
  values: {
    needleWhy: {
      of: (m) => (m.case ? needleWhyText(m) : ''),
      sample: 'alarm earlier today, the skin is sore or broken',
    },
  },
};
