/** Claims about who has what, who was told, and that nothing waits. */
import { type TextKey, textKeys } from '../../../src/generated/text-keys.ts';
import { type Claim, isAnotherReachable, isReachable, type Scene } from './claim.ts';
import { holdsText } from './pattern.ts';

/** True: a question of this doctor's, by its tag, was answered. */
function isAnswered(scene: Scene): boolean {
  const { q = '' } = scene.values;
  return scene.questions.some((one) => one.tag === q && (one.answeredAt !== null || one.promiseUntil !== null));
}

/** True: whoever carries the case, or asked, hears of it; a closed or unread case has nobody who waits. */
function isClinicTold(scene: Scene): boolean {
  return scene.of === null || scene.toldNow('worker') || scene.toldNow('lab');
}

/** True: the answer stands in the clinic's queue. */
const isOnItsWay = ({ waiting }: Scene): boolean => waiting.some((one) => one.what.kind === 'answered');

/** The sentences about what waits. */
const whatWaits = textKeys.common.filter((key) => key.startsWith('waits-')).map((key) => `common.${key}` as TextKey);

/** Somebody else who is on the line has the case. Who has left owns what whoever is told carries now. */
function isWithColleague({ people, to }: Scene, ownerId: string): boolean {
  return ownerId !== to?.id && people.some((one) => one.id === ownerId && one.state === 'joined');
}

/** True: each sentence about what waits is so. */
function isWaiting(scene: Scene): boolean {
  const { of, open } = scene;
  const what = scene.values.what ?? '';
  if (!of || of.closed !== null) return false;
  const says = (key: TextKey): boolean => holdsText(what, key);
  // Other texts begin alike: `noted. The patient goes to ...`
  if (!whatWaits.some(says)) return true;
  return (
    (!says('common.waits-frozen') || of.frozen !== null) &&
    (!says('common.waits-doctor') || open.some((one) => one.promiseUntil === null)) &&
    (!says('common.waits-doctor-by-day') ||
      scene.waiting.some((one) => one.what.kind === 'ask-doctor' && one.dueAt > scene.said.at)) &&
    (!says('common.waits-no-doctor') || !isReachable(scene, 'doctor')) &&
    (!says('common.waits-promise') || open.some((one) => one.promiseUntil !== null)) &&
    (!says('common.waits-post') || (of.status === 'posting' && of.frozen === null)) &&
    (!says('common.waits-next') ||
      scene.waiting.some((one) => one.what.kind === 'timer' && one.dueAt > scene.said.at)) &&
    (says('common.waits-colleague') || says('common.waits-colleague-code')) === isWithColleague(scene, of.ownerId) &&
    // An answer is taken from whoever carries what its owner left; asked what waits, it is said whose it was.
    (!(says('common.waits-left') || says('common.waits-left-code')) ||
      (of.ownerId !== scene.to?.id && !isWithColleague(scene, of.ownerId)))
  );
}

export const peopleClaims: readonly Claim[] = [
  {
    keys: ['common.nothing-open'],
    says: 'no question, no answer and no patient waits for this person',
    holds: ({ state, askedHere, carried, said }) =>
      askedHere.length === 0 &&
      carried.length === 0 &&
      (state?.threads.every(({ ask }) => ask === null || ask.messageId === said.id) ?? true),
  },
  {
    keys: ['common.waits', 'common.noted-next'],
    says: 'the patient is open, and what is said of frozen, post, doctor and colleague is so',
    holds: isWaiting,
  },
  {
    keys: ['doctor.waits-answer'],
    says: 'a question of this tag waits for this doctor',
    holds: ({ askedHere, values }) => askedHere.some((one) => one.tag === values.q),
  },
  {
    keys: ['people.given'],
    says: 'the case is carried by whoever is told',
    holds: ({ of, to }) => of?.ownerId === to?.id,
  },
  {
    keys: ['desk.nothing-open'],
    says: 'no question and no patient waits for this person',
    holds: ({ askedHere, carried }) => askedHere.length === 0 && carried.length === 0,
  },
  {
    keys: ['common.copies'],
    says: 'a coordinator reads what keeps coming',
    // From a coordinator's own phone another one does, if there is one.
    holds: (scene) => scene.toldNow('coordinator') || !isAnotherReachable(scene, 'coordinator'),
  },
  {
    keys: ['common.offer-human'],
    says: 'the coordinator knows',
    holds: (scene) => scene.told('coordinator'),
  },
  {
    keys: ['desk.codes-closed'],
    says: 'the coordinator knows',
    holds: (scene) => scene.told('coordinator'),
  },
  {
    keys: ['people.taken', 'people.own-already'],
    says: 'the case is carried by whoever is told',
    holds: ({ of, to }) => of !== null && of.ownerId === to?.id,
  },
  {
    keys: ['people.taken'],
    // At once, or when the colleague's gloves are off.
    says: 'the colleague is told, or will be',
    holds: (scene) =>
      scene.toldNow('worker') ||
      scene.waiting.some(({ what }) => what.kind === 'tell' && what.key === 'people.taken-from-you'),
  },
  {
    keys: ['people.taken-from-you'],
    // Whoever has gloves on hears it when they are off: a third one may have it by then.
    says: 'somebody else took the case over and it is not with whoever is told',
    holds: ({ of, to, values, people, records }) => {
      const nameOf = (id: string): string | undefined => people.find((one) => one.id === id)?.name;
      const took = records.some(({ event }) => event.type === 'taken-over' && nameOf(event.ownerId) === values.who);
      return of !== null && of.ownerId !== to?.id && took;
    },
  },
  {
    keys: ['people.frozen'],
    says: 'the case is frozen',
    holds: ({ of }) => of?.frozen != null,
  },
  {
    keys: ['people.wrong', 'doctor.release-first', 'people.replaced'],
    says: 'the case is frozen and a doctor is asked whether it may go on',
    holds: ({ of, open }) => of?.frozen != null && open.length > 0,
  },
  {
    keys: ['people.stopped'],
    says: 'the line sends this phone no more',
    holds: ({ to }) => to?.state === 'stopped',
  },
  {
    keys: ['common.started', 'common.somebody-started'],
    says: 'whoever came back is on the line',
    holds: ({ to, values, people }) =>
      values.who === undefined
        ? to?.state === 'joined'
        : people.some(({ name, state }) => name === values.who && state === 'joined'),
  },
  {
    keys: ['people.wrong-again', 'people.wrong-again-promise', 'people.wrong-again-closed', 'people.wrong-again-alarm'],
    says: 'the question is open again and the clinic is told',
    holds: (scene) =>
      scene.questions.some((one) => one.answeredAt === null) && (scene.of === null || scene.toldNow('worker')),
  },
  {
    keys: ['people.wrong-again-nobody'],
    says: 'the question is open again, and a coordinator is told because nobody of the clinic can be',
    holds: (scene) =>
      scene.questions.some((one) => one.answeredAt === null) &&
      (scene.toldNow('coordinator') || !isReachable(scene, 'coordinator')),
  },
  {
    keys: ['doctor.noted', 'doctor.promised', 'doctor.promised-decision'],
    says: 'the answer is kept, and the clinic has it or gets it next: with a needle in, after the needle',
    holds: (scene) => isAnswered(scene) && (isClinicTold(scene) || isOnItsWay(scene)),
  },
  {
    keys: ['doctor.answered-by-other', 'doctor.too-late', 'doctor.done', 'doctor.done-by-other'],
    says: 'the question is answered',
    holds: isAnswered,
  },
  {
    keys: ['doctor.held-by-other'],
    says: 'somebody has it in hand',
    holds: isAnswered,
  },
  {
    keys: ['doctor.passed'],
    says: 'whoever is named is asked; of no case nothing tells what their text is about',
    holds: (scene) => scene.of === null || scene.toldNow(scene.values.who ?? '-'),
  },
  {
    keys: ['duty.decision-doctor', 'duty.readiness-doctor'],
    says: 'the clinic was reminded',
    holds: (scene) => scene.told('worker'),
  },
  {
    keys: ['desk.noted', 'desk.noted-for-clinic'],
    says: 'the words are in the history',
    holds: ({ records }) => records.some((one) => one.event.type === 'noted'),
  },
];
