/** Where words for the patient are needed they are offered, before the question whose answer says that they were said. */
import type { TextKey } from '../generated/text-keys.ts';
import { traitsOf } from './traits.ts';
import type { SayOptions, Turn } from './turn.ts';
import { voiceFor } from './voice.ts';
import type { Person } from './world.ts';

/**
 * The offer that goes with this text: with a question marked `offers: say` when it is first asked; null = none. Who chose
 * brief words has read it often.
 */
export function offerWith(turn: Turn, person: Person, { frame, ask, lines }: SayOptions): TextKey | null {
  if (voiceFor(person, turn.person, turn.state.voice) === 'brief') return null;
  if (!frame || !ask || lines || traitsOf(turn.world.flows, frame).offers !== 'say') return null;
  const thread = turn.threads.find((one) => one.frames.at(-1)?.id === frame.id);
  return thread?.ask ? null : 'say.offer';
}
