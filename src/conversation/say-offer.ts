/** Where words for the patient are needed they are offered, before the question whose answer says that they were said. */
import type { TextKey } from '../generated/text-keys.ts';
import { traitsOf } from './traits.ts';
import type { SayOptions, Turn } from './turn.ts';

/** The offer that goes with this text: with a question marked `offers: say` when it is first asked; null = none. */
export function offerWith(turn: Turn, { frame, ask, lines }: SayOptions): TextKey | null {
  if (!frame || !ask || lines || traitsOf(turn.world.flows, frame).offers !== 'say') return null;
  const thread = turn.threads.find((one) => one.frames.at(-1)?.id === frame.id);
  return thread?.ask ? null : 'say.offer';
}
