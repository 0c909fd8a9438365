/** A second patient of the same phone, whose needle is in, beneath the question that is asked. */
import type { Place } from './places.ts';

/** Tag of the second patient; `ways/second-patient.play` leads there. */
export const secondTag = 'ZO';

/** The place with the second patient's matter open beneath; null where the phone is no worker's. */
export function withSecond(place: Place, second: Place): Place | null {
  if (place.person.id !== second.person.id) return null;
  const { conversation, cases, briefs } = place.world;
  const other = second.world.conversation;
  const threads = [...other.threads, ...conversation.threads];
  const patientUntil = Math.max(conversation.patientUntil ?? 0, place.at + 60_000);
  return {
    ...place,
    world: {
      ...place.world,
      conversation: { ...conversation, threads, patientUntil },
      cases: [...cases, ...second.world.cases],
      briefs: [...briefs, ...second.world.briefs],
    },
  };
}
