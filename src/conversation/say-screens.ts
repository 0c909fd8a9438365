import type { TextKey } from '../generated/text-keys.ts';
import type { Said } from './effect.ts';
import { offered } from './join-says.ts';
import { withKeyword } from './keyword.ts';
import { offerWith } from './say-offer.ts';
import { sayTrial } from './trial.ts';
import type { SayOptions, Turn } from './turn.ts';
import type { Person } from './world.ts';

/**
 * Says the screens of one text, each as a message; the last one carries the question and the picture and is returned. What is
 * offered with a question stands before that one, beside the screen before it where both fit.
 * A screen takes the place of the same screen said before, never of its neighbour. Null: nothing was said.
 */
export function sayScreens(
  turn: Turn,
  person: Person,
  key: TextKey,
  screens: readonly string[],
  options: SayOptions,
): Said | null {
  sayTrial(turn, person, options.lane ?? 'reply');
  const { picture: _last, ...plain } = { ...options, ask: null };
  const offer = offerWith(turn, person, options);
  const before = (text: string, part: string): void => {
    const about = options.subject === undefined ? {} : { subject: `${options.subject}${part}` };
    turn.sayText(person, text, { ...plain, ...about });
  };
  for (const [index, text] of screens.slice(0, -1).entries()) before(text, ` screen ${index + 1}`);
  if (offer !== null) before(turn.render(person, offer, options.frame!, options.caseId), offered);
  return withKeyword(turn, person, key, turn.sayText(person, screens.at(-1) ?? '', options));
}
