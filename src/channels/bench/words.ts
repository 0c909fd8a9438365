/** The words of the page, as the bench itself says them. */
import { sayWord, type Words } from '../../text/say-word.ts';

/** The word of the first of these keys that has one, with its values put in; '' where none has. */
export function sayFirst(words: Words, keys: readonly string[], values: Readonly<Record<string, string>> = {}): string {
  const known = keys.find((key) => words[key] !== undefined);
  return known === undefined ? '' : sayWord(words, known, values);
}
