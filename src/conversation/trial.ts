/** A line that runs as a trial says so to everybody before anything else that it says to them, once. */
import type { Lane } from './effect.ts';
import type { Turn } from './turn.ts';
import type { Person } from './world.ts';

/** Says it before the first text to the person whose turn it is. First aid goes before it. */
export function sayTrial(turn: Turn, person: Person, lane: Lane): void {
  if (!turn.world.trial || lane === 'sos' || person.id !== turn.person?.id || turn.state.toldTrial) return;
  turn.state = { ...turn.state, toldTrial: true };
  turn.say(person, 'people.trial', { frame: null, caseId: null, lane });
}
