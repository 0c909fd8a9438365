/** How the patient lies for the needle, by what is known of a pregnancy. */
import { answerOf } from '../../case/case.ts';
import { type Position, positionOf } from '../../clinical/position.ts';
import type { Matter, Moment } from '../moment.ts';

/** The position for this patient. */
export function positionNow(moment: Moment): Position {
  const weeks = answerOf(moment.case!, 'patient.pregnantWeeks');
  return positionOf(answerOf(moment.case!, 'patient.pregnant') === 'yes', typeof weeks === 'number' ? weeks : null);
}

/** A faint is laid on the left side, not on the back. Weeks that nobody knows count as late. */
export function liesLeft(moment: Moment): boolean {
  return positionNow(moment) !== 'flat';
}

export const position: Matter = {
  values: {
    // First aid of an alarm that belongs to no patient is the usual one.
    faintLies: {
      of: (m) =>
        m.world.texts.render(m.person.locale, m.case && liesLeft(m) ? 'sos.lies-left' : 'sos.lies-flat', () => ''),
      sample: 'on the LEFT side, not flat',
    },
    positionText: {
      of: (m) =>
        m.case ? m.world.texts.render(m.person.locale, `ready.lies-${positionNow(m)}`, () => m.case!.tag) : '',
      sample:
        'AK is 20 weeks pregnant or more: do not lay her flat. She sits half up, or put a folded cloth under the RIGHT hip: she leans LEFT. If dizzy: no needle.',
    },
  },
};
