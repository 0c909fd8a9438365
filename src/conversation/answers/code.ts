import { type Parsed, read, unreadable } from './answer.ts';
import { longestReply, tidy } from './reply.ts';

/** Checks a code typed with or without spaces and dashes, and gives it as it is stored. */
export type CodeChecker = (
  text: string,
) =>
  | { readonly ok: true; readonly code: string }
  | { readonly ok: false; readonly reason: 'bad-code-length' | 'bad-code-check' | 'bad-code-letters' };

/** A case code in any digit script; its check digits are the checker's matter. Letters are not repaired (`O` is no zero). */
export function readCode(text: string, check: CodeChecker): Parsed<string> {
  if (text.length > longestReply) return unreadable('too-long');
  const plain = tidy(text).replace(/[.!]+$/, '');
  if (plain === '') return unreadable('empty');
  const checked = check(plain.replace(/[‐‑‒–—−]/g, '-'));
  return checked.ok ? read(checked.code) : unreadable(checked.reason);
}
