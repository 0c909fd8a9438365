import { toAsciiDigits } from '../text/digits.ts';

/** `letters` names the characters that are no digits, so that a reply can point at them; they are never corrected. */
export type CodeCheck =
  | { readonly ok: true; readonly code: string }
  | { readonly ok: false; readonly reason: 'length' | 'leading-zero' | 'check-digits' }
  | { readonly ok: false; readonly reason: 'not-digits'; readonly letters: string };

/** Digits of a code with its two check digits: 8, or 10 in a programme that has issued 20,000. */
export const CODE_LENGTHS: readonly number[] = [8, 10];

/** Codes that a programme issues before it goes on with eight random digits, so that a guess stays rare. */
export const ISSUED_BEFORE_LONG_CODES = 20_000;

/** The two check digits of ISO/IEC 7064 MOD 97-10, 02 to 98: the whole number leaves 1 when divided by 97. */
function checkDigits(payload: string): string {
  return String(98 - ((Number(payload) * 100) % 97)).padStart(2, '0');
}

/**
 * Adds the check digits to six (or eight) random digits. Throws when these are not digits, start with 0 or are of another
 * length: that is a bug of the caller.
 */
export function makeCode(payload: string): string {
  if (!/^[1-9](?:\d{5}|\d{7})$/.test(payload))
    throw new Error('a code starts from six or eight digits, the first not 0');
  return payload + checkDigits(payload);
}

/**
 * Draws the random part of a code from at least eight random bytes, evenly (to one part in 10^11) over all numbers of
 * that many digits whose first is not 0. The caller draws again when the code is taken.
 */
export function drawPayload(random: Uint8Array, digits: 6 | 8): string {
  if (random.length < 8) throw new Error('a code needs eight random bytes');
  let drawn = 0n;
  for (const byte of random.subarray(0, 8)) drawn = drawn * 256n + BigInt(byte);
  const least = 10n ** BigInt(digits - 1);
  return String(least + (drawn % (9n * least)));
}

/**
 * Reads a code as people type it: spaces, dashes and dots anywhere, digits of any script. Only canonical check digits
 * pass (02 to 98). A code that passes may still be another or none: 16 of the double slips of a code pass, so it must also
 * exist, be open and match its read-back.
 */
export function checkCode(text: string): CodeCheck {
  const typed = toAsciiDigits(text).replace(/[\s.\p{Dash_Punctuation}\u2212]/gu, '');
  const letters = typed.replace(/[0-9]/g, '');
  if (letters !== '') return { ok: false, reason: 'not-digits', letters };
  if (!CODE_LENGTHS.includes(typed.length)) return { ok: false, reason: 'length' };
  if (typed.startsWith('0')) return { ok: false, reason: 'leading-zero' };
  const payload = typed.slice(0, -2);
  if (checkDigits(payload) !== typed.slice(-2)) return { ok: false, reason: 'check-digits' };
  return { ok: true, code: typed };
}

/** Writes a code in groups of four: `4829 1354`, a long one `4829 1354 27`. */
export function formatCode(code: string): string {
  return code.replace(/(\d{4})(?=\d)/g, '$1 ');
}

/** The text with the groups of its codes parted by a point: `4829.1354`, which phones that write from right to left keep in order. */
export function withPointedCodes(text: string): string {
  return findCodes(text)
    .filter(({ code }) => code !== null)
    .reduceRight((all, { from, to }) => {
      const groups = all.slice(from, to).replace(/(?<=\d)[ -](?=\d)/gu, '.');
      return all.slice(0, from) + groups + all.slice(to);
    }, text);
}

/** A stretch of a text that is a code, or looks like one and fails its check digits (`code` null). */
export interface FoundCode {
  readonly code: string | null;
  /** Where it stands in the text, `to` excluded. */
  readonly from: number;
  readonly to: number;
}

/**
 * Every code in a text, in order, whatever stands around it: `4829 1354 3a` holds `48291354`, `48291354 4, 51230925 2`
 * both. Groups may be parted by one space, dash or dot. The text must have ASCII digits. Unbroken codes are found first,
 * then those in groups, so that a number beside a code is never drawn into it.
 */
export function findCodes(text: string): readonly FoundCode[] {
  const runs = [...text.matchAll(/\d+/g)].map((run) => ({ from: run.index, to: run.index + run[0].length }));
  const taken = new Set<number>();
  const found: FoundCode[] = [];
  const take = (first: number, last: number, code: string | null): void => {
    for (let index = first; index <= last; index += 1) taken.add(index);
    found.push({ code, from: runs[first]!.from, to: runs[last]!.to });
  };
  const codeAt = (first: number, last: number): string | null => {
    const checked = checkCode(text.slice(runs[first]!.from, runs[last]!.to));
    return checked.ok ? checked.code : null;
  };
  for (const index of runs.keys()) {
    const code = codeAt(index, index);
    if (code !== null) take(index, index, code);
  }
  for (const wanted of ['valid', 'wrong'] as const) {
    for (const first of runs.keys()) {
      const last = stretches(text, runs, first, taken).find((end) => wanted === 'wrong' || codeAt(first, end) !== null);
      if (last !== undefined) take(first, last, wanted === 'valid' ? codeAt(first, last) : null);
    }
  }
  return found.sort((one, other) => one.from - other.from);
}

/** Ends of the stretches of free runs from `first` on that have as many digits as a code, shortest first. */
function stretches(
  text: string,
  runs: readonly { readonly from: number; readonly to: number }[],
  first: number,
  taken: ReadonlySet<number>,
): readonly number[] {
  const ends: number[] = [];
  let digits = 0;
  for (let last = first; last < runs.length && !taken.has(last); last += 1) {
    if (last > first && !/^[ .\u00a0-]$/.test(text.slice(runs[last - 1]!.to, runs[last]!.from))) break;
    digits += runs[last]!.to - runs[last]!.from;
    if (CODE_LENGTHS.includes(digits)) ends.push(last);
  }
  return ends;
}
