/** A cyst that is emptied because it presses or is seen: a doctor's choice, with its own supplies and its own end. */
import { answered } from '../../case/answers.ts';
import { answerOf, type Case, type Specimen } from '../../case/case.ts';
import { storedAs } from '../../case/stored.ts';
import type { Assessment } from '../../clinical/indication.ts';
import type { Proposed } from '../../clinical/proposed.ts';
import { type Act, type Matter, type Moment, record } from '../moment.ts';
import { aimedAt } from './another-day.ts';
import { textAnswer } from './common.ts';
import { cystInReach } from './cyst-in-reach.ts';
import { allowNeedle, beyondYes, isYesPast } from './doctor-yes.ts';

/** Whether a doctor has chosen to have the cyst emptied. */
export function isDrain(of: Case): boolean {
  return typeof answerOf(of, 'drain') === 'string';
}

/** Emptied, and nothing of it on a slide: no result is waited for. */
export function isOnlyDrained(of: Case, specimen: Specimen): boolean {
  return isDrain(of) && specimen.attempts.length > 0 && specimen.attempts.every((one) => one === 'fluid');
}

/**
 * Weighed again after a doctor chose to have a cyst emptied: the choice is for that cyst and no other needle. `lost`: what
 * is known now speaks against it or advises a needle that the doctor had not read of, so that nothing is allowed any more.
 * Null: nobody chose it.
 *
 * @param advised what the rules propose now
 */
export function drainNow(moment: Moment, advised: readonly Proposed[]): Proposed | 'lost' | null {
  if (!isDrain(moment.case!)) return null;
  if (isYesPast(moment) || (beyondYes(moment) ?? []).length > 0) return 'lost';
  const before = storedAs<Assessment>(moment.case!.decided?.assessment)?.proposed ?? [];
  if (advised.length > 0 && aimedAt(advised) !== aimedAt(before)) return 'lost';
  const cyst = cystInReach(moment);
  return cyst?.nodule === answerOf(moment.case!, 'drain') ? cyst : 'lost';
}

/** The cyst becomes what is proposed, and the doctor's yes is for it. */
function allowDrain(moment: Moment): readonly Act[] {
  const cyst = cystInReach(moment);
  const before = moment.case!.decided;
  if (cyst === null || before === null) return allowNeedle(moment);
  const { at: _at, ...rest } = before;
  return [
    ...allowNeedle(moment).filter((act) => act.do !== 'record' || act.event.type !== 'decided'),
    record({ type: 'decided', ...rest, proposed: [cyst] }),
    record(answered('drain', cyst.nodule)),
  ];
}

export const drainage: Matter = {
  decisions: {
    'cyst-does': {
      outcomes: ['harm', 'nothing'],
      decide: (m) => (['presses', 'seen'].includes(textAnswer(m, 'cyst')) ? 'harm' : 'nothing'),
    },
  },
  recorders: { 'allow-drain': allowDrain },
  values: {
    cystDoes: {
      of: (m) => m.world.texts.label(m.person.locale, 'cyst', textAnswer(m, 'cyst') || 'presses'),
      sample: 'it is seen from outside',
    },
    agreedTo: {
      of: (m) =>
        m.world.texts.render(
          m.person.locale,
          m.case && isDrain(m.case) ? 'decision.to-drain' : 'decision.to-needle',
          () => '',
        ),
      sample: 'empty the cyst with needle and syringe',
    },
    refill: {
      of: (m) =>
        m.case && isDrain(m.case) ? m.world.texts.render(m.person.locale, 'decision.refills', () => m.case!.tag) : '',
      sample: 'AK: tell the patient: half to four fifths of cysts fill again.',
    },
  },
};
