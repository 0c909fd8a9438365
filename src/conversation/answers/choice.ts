import { type Parsed, read, type ShownOption, unreadable } from './answer.ts';
import { matchOptions } from './options.ts';
import { longestReply, tidy } from './reply.ts';

/**
 * One option by its digits or a word: any case, with or without accents, punctuation around it ignored. Saying the same
 * option twice in words (`4 solid`) is one answer; two different ones are `one-only`. A reply of several digits (`21`) counts
 * whole, and a digit repeated (`1111`) is no answer.
 */
export function readChoice(text: string, options: readonly ShownOption[]): Parsed<string> {
  if (text.length > longestReply) return unreadable('too-long');
  const plain = tidy(text);
  if (plain === '') return unreadable('empty');
  const exact = options.find((option) => option.reply === plain);
  if (exact) return read(exact.id);
  // `1111` is the answer to a question about four slides, sent again: never a 1.
  if (/^(\d)\1+$/.test(plain.replace(/[\s,;/.-]+/gu, ''))) return unreadable('not-an-option');
  const found = matchOptions(plain, options);
  const first = found?.[0];
  if (!found || first === undefined) return unreadable('not-an-option');
  return found.every((option) => option.id === first.id) ? read(first.id) : unreadable('one-only');
}
