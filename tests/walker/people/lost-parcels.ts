/** A parcel is called lost: by the worker who posted it, the laboratory that waits for it, or the coordinator. */
import { specimenOf } from '../../../src/case/case.ts';
import type { Town } from '../town.ts';
import type { Recorded } from '../transcript.ts';
import type { Habits } from './habits.ts';

const dayMinutes = 24 * 60;

/** Some days after the post, while nobody has written that it came; also right before it comes. */
export function callsLost(town: Town, { record, caseId, by }: Recorded, who: readonly string[], habits: Habits): void {
  const { event } = record;
  const { chance } = town;
  if (event.type !== 'posted' || !chance.happens(habits.lostParcels)) return;
  const [specimen] = event.specimens;
  const one = chance.pick([by, by, ...who]);
  town.plan(one, chance.minutes(dayMinutes / 2, 8 * dayMinutes), () => {
    const sent = specimenOf(town.cases.get(caseId)!, specimen ?? null);
    return sent ? { text: `NOPARCEL ${sent.code}`, caseId, slip: 'word' } : null;
  });
}
