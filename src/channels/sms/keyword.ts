/** The word in front of every text, where several services share one number and the network sorts by it. */

/**
 * The text without that word: in any case, with or without a space, a colon or another sign behind it. A text without it
 * stays as it is: not every network passes it on.
 */
export function withoutKeyword(text: string, keyword: string): string {
  const found = new RegExp(`^\\s*["'(]?${keyword}[\\s:;.,=>")'-]*`, 'iu').exec(text);
  return found ? text.slice(found[0].length) : text;
}
