/** The page's words, typed by their keys and placeholders. */
import type { benchWords } from '../../../generated/bench-words.ts';
import { type Sayer, sayer } from '../../../text/say-word.ts';

export type Say = Sayer<typeof benchWords>;

/** Says the words that came with the state. */
export function sayOf(words: Readonly<Record<string, string>>): Say {
  return sayer<typeof benchWords>(words);
}
