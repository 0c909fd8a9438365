import { foldWord } from '../../text/fold.ts';
import { type Parsed, read, unreadable } from './answer.ts';
import { longestReply, tidy, wordsOf } from './reply.ts';

/**
 * A YES with what was quoted, or a NO. `challenge`: the four digits that the line sent; `second`: what is read from the
 * slide, a four-digit birth year or one to four letters, folded and in capitals (compare with `foldInitials`). Null = not
 * said. Whether they are right is the caller's matter.
 */
export type Confirmation =
  | { readonly answer: 'yes'; readonly challenge: string | null; readonly second: string | null }
  | { readonly answer: 'no' };

/** Words for yes and no in the person's language, folded. English YES and NO are always taken. */
export interface ConfirmationWords {
  readonly yes: readonly string[];
  readonly no: readonly string[];
}

/**
 * Reads `YES`, `YES 4718`, `YES 4718 1982`, `YES 4718 AK` and `NO`. A text that begins with NO and holds no YES is a no
 * whatever follows: nothing is filed by it. Anything unclear is unreadable, so that it does not count as a wrong number.
 */
export function readConfirmation(text: string, words: ConfirmationWords = { yes: [], no: [] }): Parsed<Confirmation> {
  if (text.length > longestReply) return unreadable('too-long');
  const said = wordsOf(tidy(text));
  const [first, challenge, second, ...more] = said;
  if (first === undefined) return unreadable('empty');
  const isYes = (word: string): boolean => word === 'yes' || words.yes.includes(word);
  const isNo = (word: string): boolean => word === 'no' || words.no.includes(word);
  if (isNo(first)) return said.some(isYes) ? unreadable('not-an-option') : read({ answer: 'no' });
  if (!isYes(first) || said.some(isNo)) return unreadable('not-an-option');
  if (challenge === undefined) return read({ answer: 'yes', challenge: null, second: null });
  if (!/^\d{4}$/.test(challenge) || more.length > 0) return unreadable('not-a-challenge');
  if (second === undefined) return read({ answer: 'yes', challenge, second: null });
  const quoted = second.replace(/[.'’]/g, '');
  const isInitials = /^(\p{L}\p{M}*){1,4}$/u.test(quoted);
  if (!/^\d{4}$/.test(quoted) && !isInitials) return unreadable('not-a-challenge');
  return read({ answer: 'yes', challenge, second: quoted.toUpperCase() });
}

/** The digits behind a yes, and nothing else (the text is folded): four or more, in groups or not; null = it is not that. */
export function digitsBehind(folded: string): string | null {
  const digits = /^\p{L}+((?:[\s.,-]*\d+)+)$/u.exec(folded)?.[1]?.replace(/\D/g, '') ?? '';
  return digits.length < 4 ? null : digits;
}

/** Initials as a confirmation quotes them: without accents, in capitals. */
export function foldInitials(initials: string): string {
  return foldWord(initials).toUpperCase();
}
