/** What the worker is told after a needle-stick, by the time since. */

import { HEPATITIS_B_HOURS, HIV_PROPHYLAXIS_HOURS, needleStickAdvice } from '../../clinical/needle-stick.ts';
import type { KeyIn } from '../../generated/text-keys.ts';
import type { Matter, Moment } from '../moment.ts';
import { leadText } from './lead.ts';

/** Hours that stand for each answer: inside the span, so that the advice is that span's. */
const stickHours: Readonly<Record<string, number>> = {
  day: HIV_PROPHYLAXIS_HOURS.best,
  'three-days': HIV_PROPHYLAXIS_HOURS.last,
  week: HEPATITIS_B_HOURS.last,
  longer: HEPATITIS_B_HOURS.last + 1,
};

function stickKey(m: Moment): KeyIn<'sos'> {
  const advice = needleStickAdvice(stickHours[String(m.frame.vars.stick ?? '')] ?? 'unknown');
  if (advice.hiv === 'now') return 'stick-now';
  if (advice.hiv === 'still-possible') return 'stick-late';
  return advice.hepatitisB === 'benefit-unknown' ? 'stick-old' : 'stick-passed';
}

/** The advice, as texts show it. */
export const stickValues: NonNullable<Matter['values']> = {
  stickAdvice: {
    of: (m) =>
      m.world.texts.render(m.person.locale, `sos.${stickKey(m)}`, (name) => (name === 'lead' ? leadText(m) : '')),
    sample:
      'AK: it is too late for HIV tablets. After 7 days it is not known if hepatitis B globulin still helps. Go all the same: ask for blood tests and follow-up.',
  },
};
