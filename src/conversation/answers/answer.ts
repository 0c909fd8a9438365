/** What a question can take for an answer. */
export const askKinds = ['choice', 'choices', 'number', 'diameters', 'date', 'text', 'code'] as const;
export type AskKind = (typeof askKinds)[number];

/** One option as it was shown: the digits (or letter) to send, its id, and the words accepted for it, folded by `foldWord`. */
export interface ShownOption {
  readonly reply: string;
  readonly id: string;
  readonly words: readonly string[];
}

/** Why a reply was not taken. Each has its own text: what was expected, and one example. */
export type UnreadableReason =
  | 'empty'
  | 'too-long'
  | 'not-an-option'
  | 'one-only'
  | 'not-both'
  | 'none-with-others'
  | 'own-none'
  | 'wrong-count'
  | 'not-a-number'
  | 'too-many-decimals'
  | 'out-of-range'
  | 'not-a-size'
  | 'needs-third'
  | 'needs-unit'
  | 'unlikely-size'
  | 'needs-side'
  | 'other-side'
  | 'too-many-nodules'
  | 'not-a-date'
  | 'date-in-future'
  | 'date-too-far'
  | 'date-too-old'
  | 'full-name'
  | 'needs-initials'
  | 'needs-age'
  | 'needs-sex'
  | 'unlikely-age'
  | 'age-and-year-differ'
  | 'pregnant-not-female'
  | 'weeks-out-of-range'
  | 'not-a-fluid'
  | 'not-a-time'
  | 'time-to-come'
  | 'time-too-long-ago'
  | 'time-before-needle'
  | 'time-after-report'
  | 'not-understood'
  | 'bad-code-length'
  | 'bad-code-check'
  | 'bad-code-letters'
  | 'not-a-challenge';

/** A reply that was read, or the reason why not. Readers never throw and never guess. */
export type Parsed<T> =
  | { readonly ok: true; readonly value: T }
  | { readonly ok: false; readonly reason: UnreadableReason };

/** The reply was read as `value`. */
export function read<T>(value: T): Parsed<T> {
  return { ok: true, value };
}

/** The reply was not taken. */
export function unreadable(reason: UnreadableReason): { readonly ok: false; readonly reason: UnreadableReason } {
  return { ok: false, reason };
}
