/** Workers leave the line in the middle of things, for days or for good: what they carry goes to whoever is there. */
import type { Town } from '../town.ts';
import type { Recorded } from '../transcript.ts';
import type { Habits } from './habits.ts';

const dayMinutes = 24 * 60;

/** A while after a patient came, or was examined, the worker says STOP, and now and then is back days later. */
export function leavesSome(town: Town, { record, after }: Recorded, habits: Habits): void {
  const { chance } = town;
  const { type } = record.event;
  if ((type !== 'opened' && type !== 'decided') || !chance.happens(habits.leaving)) return;
  const fromMs = chance.minutes(5, chance.happens(0.5) ? 90 : 4 * dayMinutes);
  town.plan(after.ownerId, fromMs, () => ({ text: 'STOP', slip: 'word' }));
  if (chance.happens(0.5)) {
    const away = chance.minutes(dayMinutes, 6 * dayMinutes);
    town.plan(after.ownerId, fromMs + away, () => ({ text: 'START', slip: 'word' }));
  }
}
