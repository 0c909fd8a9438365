/** When plain words of danger are heard from a phone: while a patient of it is at hand, and until the going-home days are over. */
import { durationOf } from '../programme.ts';
import { type Traits, traitsOf } from '../traits.ts';
import type { Turn } from '../turn.ts';
import type { Person } from '../world.ts';

/** Each event while a patient is at hand moves the end of the going-home days. */
export function keepPatientNear(turn: Turn): void {
  const near = turn.threads.some((one) => one.frames.some((frame) => isAtHand(traitsOf(turn.world.flows, frame))));
  if (!near) return;
  turn.state = { ...turn.state, patientUntil: turn.now + durationOf(turn.world.programme, 'going-home-words') };
}

/** From the first question of getting ready to the last of the watch, and in every alarm. */
function isAtHand({ bedside, alarm }: Traits): boolean {
  return bedside !== undefined || alarm !== undefined;
}

/** True: a cry in a text of this person is heard. */
export function hearsCries(turn: Turn, person: Person): boolean {
  if (person.state !== 'joined' || !person.practised) return true;
  return (turn.state.patientUntil ?? 0) >= turn.now;
}
