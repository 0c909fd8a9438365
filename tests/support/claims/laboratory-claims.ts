/** Claims about parcels and results. */
import { type Claim, isReachable, type Scene } from './claim.ts';

/** True: the clinic was sent it, or its conversation about it waits for gloved hands: the next thing in its queue. */
const isForClinic = (scene: Scene, flow: string): boolean =>
  scene.toldNow('worker') || scene.waiting.some(({ what }) => what.kind === 'run' && what.flow === flow);

/** True: somebody who could carry the case is on the line. */
const isClinicThere = ({ people, of }: Scene): boolean =>
  people.some(
    (one) =>
      one.state === 'joined' && one.roles.includes('worker') && one.siteId === of?.siteId && one.addresses.length > 0,
  );

export const laboratoryClaims: readonly Claim[] = [
  {
    keys: ['posting.posted'],
    says: 'it is posted, and the laboratory or a coordinator hears it',
    holds: (scene) =>
      scene.specimen?.postedAt != null &&
      (scene.toldNow('lab') || scene.toldNow('coordinator') || !isReachable(scene, 'coordinator')),
  },
  {
    keys: ['posting.already', 'posting.request', 'duty.receipt-lab'],
    says: 'it was posted',
    holds: ({ specimen }) => specimen?.postedAt != null,
  },
  {
    keys: ['posting.ready', 'duty.posting-worker', 'duty.posting-coordinator'],
    says: 'it waits for the post',
    holds: ({ of }) => of?.specimens.some((one) => one.end === null && one.postedAt === null) === true,
  },
  {
    keys: ['posting.frozen'],
    says: 'frozen, and not posted',
    holds: ({ of, specimen }) => of?.frozen != null && specimen?.postedAt === null,
  },
  {
    keys: ['posting.alarm'],
    says: 'an alarm is open, and it is not posted',
    holds: ({ of, specimen }) => of?.sos != null && specimen?.postedAt === null,
  },
  {
    keys: ['posting.over'],
    says: 'it has its end',
    holds: ({ of, specimen }) => of?.closed != null || specimen?.end != null,
  },
  {
    keys: ['posting.nobody-at-lab'],
    says: 'no laboratory can be reached',
    holds: (scene) =>
      !scene.people.some(
        (one) => one.state === 'joined' && one.roles.includes('lab') && one.siteId === scene.specimen?.labId,
      ),
  },
  {
    keys: ['laboratory.got', 'laboratory.got-other-count', 'laboratory.got-already'],
    says: 'the laboratory has it',
    holds: ({ specimen }) => specimen?.receivedAt != null,
  },
  {
    keys: ['laboratory.received-for-worker', 'laboratory.fewer-for-worker'],
    says: 'the laboratory said so, with this count',
    // The second screen gives no count.
    holds: ({ specimen, values: { slidesGot } }) =>
      specimen?.receivedAt != null && (slidesGot === undefined || String(specimen.receivedSlides) === slidesGot),
  },
  {
    keys: ['duty.receipt-worker', 'duty.receipt-coordinator'],
    says: 'posted, and the laboratory has not said that it came',
    holds: ({ specimen }) => specimen?.postedAt != null && specimen.receivedAt === null,
  },
  {
    keys: ['laboratory.filed'],
    says: 'a result is filed; a doctor is told, and the clinic has it or gets it next',
    holds: (scene) =>
      (scene.specimen?.results.length ?? 0) > 0 && scene.toldNow('doctor') && isForClinic(scene, 'action'),
  },
  {
    keys: ['laboratory.filed-by-day'],
    says: 'a result is filed; the clinic has it or gets it next, no doctor yet',
    holds: (scene) =>
      (scene.specimen?.results.length ?? 0) > 0 && isForClinic(scene, 'action') && !scene.toldWith('doctor'),
  },
  {
    keys: ['laboratory.filed-clinic'],
    says: 'a result is filed; the clinic has it or gets it next',
    holds: (scene) => (scene.specimen?.results.length ?? 0) > 0 && isForClinic(scene, 'action'),
  },
  {
    keys: ['laboratory.filed-nobody-there'],
    says: 'a result is filed, and a coordinator is told instead of the clinic',
    holds: (scene) =>
      (scene.specimen?.results.length ?? 0) > 0 && !isClinicThere(scene) && scene.toldNow('coordinator'),
  },
  {
    keys: ['laboratory.same'],
    says: 'a result is filed',
    holds: ({ specimen }) => (specimen?.results.length ?? 0) > 0,
  },
  {
    keys: ['laboratory.void', 'laboratory.dropped'],
    says: 'no read-back is open',
    holds: ({ specimen }) => specimen?.readBack == null,
  },
  {
    keys: ['laboratory.locked', 'locked.phone'],
    says: 'results by text are locked',
    holds: ({ specimen }) => specimen?.locked === true,
  },
  {
    keys: ['laboratory.unlocked', 'locked.unlocked'],
    says: 'results by text are open',
    holds: ({ specimen }) => specimen?.locked === false,
  },
  {
    keys: ['rejected.noted'],
    says: 'it is recorded that it cannot be used, and the clinic is told',
    holds: (scene) => scene.specimen?.rejected != null && isForClinic(scene, 'unusable'),
  },
  {
    keys: ['rejected.noted-nobody-there'],
    says: 'it is recorded that it cannot be used, and a coordinator is told instead of the clinic',
    holds: (scene) => scene.specimen?.rejected != null && !isClinicThere(scene) && scene.toldNow('coordinator'),
  },
  {
    keys: ['laboratory.bad-nobody-there'],
    says: 'it is recorded that it cannot be used, and nobody of the clinic is reached',
    holds: (scene) => scene.specimen?.rejected != null && !isClinicThere(scene),
  },
  {
    keys: ['laboratory.bad-for-doctor', 'laboratory.refused'],
    says: 'it is recorded that it cannot be used',
    holds: ({ specimen }) => specimen?.rejected != null,
  },
  {
    keys: ['unusable.over', 'unusable.right-again', 'doctor.right-again'],
    says: 'it can be used again',
    holds: ({ specimen }) => specimen?.rejected === null,
  },
  {
    keys: ['unusable.comes-for-doctor'],
    says: 'the clinic has closed the sample for a new needle',
    holds: ({ specimen }) => specimen?.end === 'not-usable',
  },
  {
    keys: ['laboratory.bad-closed'],
    says: 'the specimen has its end',
    holds: ({ of, specimen }) => of?.closed != null || specimen?.end != null,
  },
  {
    keys: ['laboratory.asked-clinic'],
    says: 'the clinic is asked',
    holds: (scene) => isForClinic(scene, 'lab-asks'),
  },
  {
    keys: ['laboratory.asked-coordinator'],
    says: 'a coordinator is asked',
    holds: (scene) => scene.toldNow('coordinator'),
  },
  {
    keys: ['read-back.phone-the-lab', 'read-back.left-for-coordinator', 'read-back.left-for-lab'],
    says: 'a result came that nobody confirmed',
    holds: ({ specimen }) => specimen?.readBack != null || specimen?.lapsed != null,
  },
];
