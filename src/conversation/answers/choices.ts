import { type Parsed, read, type ShownOption, unreadable } from './answer.ts';
import { matchOptions } from './options.ts';
import { longestReply, tidy } from './reply.ts';

/**
 * Several options in one reply: `134`, `1 3 4`, `1,3,4`, words, and one-letter options (`1357H`). Gives ids in the order
 * the options were shown, each once. None (`0`, or the id `none`) stands alone; unknown (`9`) may stand with others.
 * What an unnamed option then means is the caller's rule. `joiners`: folded words that may stand between (`and`).
 */
export function readChoices(
  text: string,
  options: readonly ShownOption[],
  joiners: readonly string[] = [],
): Parsed<readonly string[]> {
  if (text.length > longestReply) return unreadable('too-long');
  const plain = tidy(text);
  if (plain === '') return unreadable('empty');
  const found = matchOptions(plain, options, joiners);
  if (!found || found.length === 0) return unreadable('not-an-option');
  const named = options.filter((option) => found.includes(option));
  if (named.length > 1 && named.some((option) => option.reply === '0' || option.id === 'none')) {
    return unreadable('none-with-others');
  }
  return read(named.map((option) => option.id));
}
