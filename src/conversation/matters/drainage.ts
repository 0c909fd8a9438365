/** A cyst that is emptied because it presses or is seen: a doctor's choice, with its own supplies and its own end. */
import { answered } from '../../case/answers.ts';
import { answerOf, type Case, type Specimen } from '../../case/case.ts';
import { proposedNodule } from '../../case/stored-events.ts';
import { drainableCyst } from '../../clinical/drainage.ts';
import { type Act, type Matter, type Moment, record } from '../moment.ts';
import { textAnswer } from './common.ts';
import { allowNeedle } from './doctor-yes.ts';
import { findingsNow } from './findings-now.ts';

/** Whether a doctor has chosen to have the cyst emptied. */
export function isDrain(of: Case): boolean {
  return typeof answerOf(of, 'drain') === 'string';
}

/** Emptied, and nothing of it on a slide: no result is waited for. */
export function isOnlyDrained(of: Case, specimen: Specimen): boolean {
  return isDrain(of) && specimen.attempts.length > 0 && specimen.attempts.every((one) => one === 'fluid');
}

/** The cyst becomes what is proposed, and the doctor's yes is for it. */
function allowDrain(moment: Moment): readonly Act[] {
  const cyst = drainableCyst(findingsNow(moment));
  const before = moment.case!.decided;
  if (cyst === null || before === null) return allowNeedle(moment);
  const { at: _at, ...rest } = before;
  return [
    ...allowNeedle(moment).filter((act) => act.do !== 'record' || act.event.type !== 'decided'),
    record({ type: 'decided', ...rest, proposed: [proposedNodule(moment.case!, cyst)] }),
    record(answered('drain', cyst)),
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
