/** Claims about a patient's way, from the findings to the end. */
import { answerOf } from '../../../src/case/case.ts';
import type { TextKey } from '../../../src/generated/text-keys.ts';
import { shipped } from '../shipped.ts';
import { type Claim, comesBack, isDoctorAsked, isDoctorTold, namesCode } from './claim.ts';

/** Rows that ask when their day comes; of a day that has begun they are due already. */
const asksOnItsDay: ReadonlySet<string> = new Set(['timer', 'look-again']);

export const patientClaims: readonly Claim[] = [
  {
    keys: [
      'decision.noted',
      'decision.noted-tsh',
      'decision.noted-no-sampling',
      'decision.noted-after-birth',
      'decision.noted-closed',
      'aftercare.cyst-closed',
      'referral.closed',
    ],
    says: 'the case is closed',
    holds: ({ of }) => of?.closed != null || of?.status === 'closed',
  },
  {
    keys: ['action.reviewed', 'action.node-reviewed', 'action.closed', 'action.closed-by-doctor', 'unusable.closed'],
    says: 'the specimen has its end',
    holds: (scene) =>
      scene.of?.closed != null ||
      (namesCode(scene) ? scene.specimen?.end != null : scene.of?.specimens.some(({ end }) => end !== null) === true),
  },
  {
    keys: ['unusable.come-again'],
    says: 'closed as not usable',
    holds: ({ specimen }) => specimen?.end === 'not-usable',
  },
  {
    keys: [
      'decision.asked',
      'ready.asked',
      'ready.alarm-today',
      'sampling.alarm-next',
      'sampling.limit',
      'sampling.fluid-doctor',
      'aftercare.asked',
      'action.asked',
      'referral.asked',
      'unusable.asked',
      'ask.asked',
      'ask.picture-asked',
    ],
    says: 'a question about it waits for a doctor',
    holds: isDoctorAsked,
  },
  {
    keys: ['decision.day-noted', 'review.day-noted'],
    says: 'the day is kept and asked about, where it is today at once',
    holds: (scene) =>
      scene.waiting.some(({ what, dueAt }) => dueAt >= scene.said.at || asksOnItsDay.has(what.kind)) ||
      scene.state?.threads.some((one) => one.caseId === scene.of?.id && one.ask !== null) === true,
  },
  {
    keys: ['aftercare.again-noted', 'action.goes'],
    says: 'the day is kept and asked about',
    holds: (scene) => comesBack(scene) || scene.waiting.some(({ what }) => asksOnItsDay.has(what.kind)),
  },
  {
    keys: ['referral.day-noted'],
    says: 'the day is kept, and the conversation that asks about it runs or begins in this instant',
    holds: (scene) =>
      comesBack(scene) || scene.waiting.some(({ what }) => what.kind === 'run' && what.flow === 'referral'),
  },
  {
    keys: ['decision.emergency-going'],
    says: 'it was said that the patient goes, and it is asked about',
    holds: (scene) => comesBack(scene) && scene.of !== null,
  },
  {
    keys: ['action.refer', 'action.urgent'],
    says: 'a doctor is asked, has it in hand or has answered, about this result',
    holds: ({ said, specimen, questions }) => {
      const here = questions.filter((one) => one.item === specimen?.id && one.about !== 'phoned');
      const isSaid = (key: TextKey): boolean => said.text.includes(`: ${shipped.texts.render('en', key, () => '')}. `);
      const open = here.filter((one) => one.answeredAt === null);
      if (isSaid('common.doctor-has-it')) return open.some((one) => one.promiseUntil !== null);
      if (isSaid('common.doctor-asked')) return open.some((one) => one.promiseUntil === null);
      return !isSaid('common.doctor-answered') || here.some((one) => one.answeredAt !== null);
    },
  },
  {
    keys: ['referral.again'],
    says: 'the patient was not seen',
    holds: ({ of }) => of !== null && answerOf(of, 'referral-seen') === 'not-seen',
  },
  {
    keys: ['referral.not-seen'],
    says: 'somebody said: not seen; a doctor was told',
    holds: (scene) => scene.of !== null && answerOf(scene.of, 'referral-seen') === 'not-seen' && isDoctorTold(scene),
  },
  {
    keys: ['referral.referral-missed'],
    says: 'somebody said: not seen',
    holds: ({ of }) => of !== null && answerOf(of, 'referral-seen') === 'not-seen',
  },
  {
    keys: ['referral.find-out', 'referral.referral-unclear'],
    says: 'nobody knows whether the patient was seen',
    holds: ({ of }) => of !== null && answerOf(of, 'referral-seen') === 'unknown',
  },
  {
    keys: ['referral.seen-needle-open', 'referral.closed-needle-open'],
    says: 'the case is open',
    holds: ({ of }) => of !== null && of.closed === null,
  },
  {
    keys: ['action.not-seen'],
    says: 'the patient was not seen, and a doctor is told',
    holds: (scene) => scene.specimen?.seen === false && isDoctorTold(scene),
  },
  {
    keys: ['action.missed'],
    says: 'somebody said: not seen',
    holds: ({ specimen }) => specimen?.seen === false,
  },
  {
    keys: ['action.doctor-silent'],
    says: 'no doctor has decided on the result: a call and words decide nothing',
    holds: ({ specimen }) => [null, 'call-me', 'words'].includes(specimen?.acknowledgement ?? null),
  },
  {
    keys: ['review.noted'],
    says: 'a doctor is told that the patient does not come',
    holds: isDoctorTold,
  },
  {
    keys: ['decision.released'],
    says: 'a doctor has answered',
    holds: ({ records }) => records.some((one) => one.event.type === 'doctor-answered'),
  },
];
