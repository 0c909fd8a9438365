/** Claims about alarms and about who was called. */
import { type Claim, comesBack, isAnotherReachable, type Scene } from './claim.ts';

/** Who was reached, by name; `the coordinator of this line` by role. */
function namesOf({ values }: Scene): readonly string[] {
  const said = values.reached ?? values.names ?? '';
  // A screen that names nobody claims nothing of anybody.
  if (said === '') return [];
  if (said === 'the coordinator of this line') return ['coordinator'];
  return said.replace(/ and \d+ more$/u, '').split(/, | and /u);
}

export const alarmClaims: readonly Claim[] = [
  {
    keys: ['sos.reached', 'sos.told-again', 'aside.told'],
    says: 'those who are named were sent it',
    holds: (scene) => namesOf(scene).every((name) => scene.told(name)),
  },
  {
    keys: ['sos.same'],
    says: 'it is asked again',
    holds: comesBack,
  },
  {
    keys: ['sos.over', 'sos.over-for-doctor'],
    says: 'no alarm of the patient is open',
    holds: ({ of }) => of === null || of.sos === null,
  },
  {
    keys: ['sos.handed-over', 'sos.handed-over-for-doctor'],
    says: 'the alarm is handed over',
    holds: ({ of }) => of === null || of.sos === null,
  },
  {
    keys: ['sos.for-coordinator'],
    says: 'no doctor can be reached',
    holds: (scene) => scene.people.filter((one) => one.roles.includes('doctor') && one.state === 'joined').length <= 1,
  },
  {
    keys: ['common.ladder-spent', 'common.ladder-spent-now', 'common.nobody-answers'],
    says: 'a doctor was asked and none has answered; it is asked on',
    holds: ({ open, of, waiting }) =>
      of === null || (open.some((one) => one.answeredAt === null) && waiting.some((one) => one.what.kind === 'climb')),
  },
  {
    keys: ['common.no-doctor', 'common.no-doctor-now'],
    says: 'no other doctor can be reached',
    holds: (scene) => !isAnotherReachable(scene, 'doctor'),
  },
];
