/** A doctor's yes to a needle: what it allows, what has to be asked before, and what it cannot lift. */

import { answered } from '../../case/answers.ts';
import { answerOf } from '../../case/case.ts';
import { againstNeedle } from '../../clinical/against-needle.ts';
import { needleStops } from '../../clinical/needle-stops.ts';
import type { Reason } from '../../clinical/reasons.ts';
import { type Act, type Matter, type Moment, record } from '../moment.ts';
import { neverAsked } from './asked.ts';
import { findingsNow } from './findings-now.ts';
import { siteGuides } from './guidance.ts';
import { propose, proposedNow } from './target.ts';

/** Gates that are open because nobody has asked; once asked and not known they are reasons like others. */
const openedBy = {
  'danger-signs-unknown': 'signs',
  'risks-unknown': 'family',
  'bleeding-unknown': 'bleeding',
  'tsh-unknown': 'tsh',
  'not-examined': 'examination',
  'no-ultrasound': 'ultrasound',
} as const satisfies Partial<Record<Reason, ReturnType<typeof neverAsked>[number]>>;

/** Where no ultrasound guides the needle a hand does: nobody examined yet is as good as not asked. */
function lacksHand(moment: Moment): boolean {
  return !siteGuides(moment) && answerOf(moment.case!, 'examined') !== true;
}

/** Whether something has to be asked before the needle that a doctor may allow. */
function asksFirst(moment: Moment): boolean {
  return neverAsked(moment.case!).length > 0 || lacksHand(moment);
}

/** What stands against a needle now, of all that is proposed. */
function against(moment: Moment): readonly Reason[] {
  const findings = findingsNow(moment);
  return [
    ...new Set(proposedNow(moment).flatMap((one) => againstNeedle(findings, one, moment.world.programme.inrHours))),
  ];
}

/** What no doctor far away lifts. */
export function stopsOfNeedle(moment: Moment): readonly Reason[] {
  const findings = findingsNow(moment);
  return proposedNow(moment).flatMap((one) => needleStops(findings, one));
}

/** Reasons that stand against a needle although a doctor has allowed one; null without a doctor's yes. */
export function beyondYes(moment: Moment): readonly Reason[] | null {
  const allowed = answerOf(moment.case!, 'doctor-allows') ?? null;
  if (allowed === null) return null;
  const stops = stopsOfNeedle(moment);
  return against(moment).filter((one) => stops.includes(one) || !allowed.includes(one));
}

/** A doctor's yes for a lump that the hand does not find and no ultrasound guides to: sampled elsewhere or not at all. */
export function isYesForUnfelt(moment: Moment): boolean {
  return beyondYes(moment)?.includes('impalpable-without-guidance') === true;
}

/** The doctor knew what stood in the question: what was asked. What nobody asked is no part of the yes. */
function allowNeedle(moment: Moment): readonly Act[] {
  const of = moment.case!;
  const unasked = neverAsked(of);
  const isHandless = lacksHand(moment);
  const known = against(moment).filter((one) => {
    if (isHandless && one === 'not-examined') return false;
    const subject = one in openedBy ? openedBy[one as keyof typeof openedBy] : null;
    return subject === null || !unasked.includes(subject);
  });
  const before = answerOf(of, 'doctor-allows') ?? [];
  return [
    record(answered('doctor-allows', [...new Set([...before, ...known])])),
    ...(isHandless ? [record(answered('examined', null))] : []),
    ...propose(moment),
  ];
}

export const doctorYes: Matter = {
  decisions: {
    'doctor-may': {
      outcomes: ['needle', 'no-needle'],
      decide: (m) => (stopsOfNeedle(m).length === 0 ? 'needle' : 'no-needle'),
    },
    'after-yes': {
      outcomes: ['unasked', 'stopped', 'free'],
      decide: (m) => {
        if (neverAsked(m.case!).length > 0) return 'unasked';
        return (beyondYes(m) ?? []).length > 0 ? 'stopped' : 'free';
      },
    },
  },
  recorders: { 'allow-needle': allowNeedle },
  values: {
    needleChoice: {
      of: (m) => {
        const key = m.case && asksFirst(m) ? 'gaps.choice-ask-first' : 'gaps.choice-needle';
        return m.world.texts.render(m.person.locale, key, () => '');
      },
      sample: 'ask these, then needle',
    },
  },
};
