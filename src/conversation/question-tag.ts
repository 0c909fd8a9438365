/**
 * The number of a doctor's question, as the line draws it (`Turn.freeTag`) and as people write it: two digits, four or six
 * where somebody guesses, with or without `Q` before them. Our convention.
 */
import { toAsciiDigits } from '../text/digits.ts';

export const fewestTagDigits = 2;
export const mostTagDigits = 6;

const digits = `\\d{${fewestTagDigits},${mostTagDigits}}`;
const alone = new RegExp(`^q?\\s?(${digits})$`, 'i');
const withWords = new RegExp(`^q?\\s?(${digits})(?:[\\s:.,-]+(.+))?$`, 'is');
const inFront = new RegExp(`^\\s*q?\\s?(${digits})\\b`, 'i');
const anywhere = new RegExp(`(?<!\\d)${digits}(?!\\d)`);

/** `47`, `Q47`, `q 294112`: the tag, or null when the text is anything else. */
export function tagAlone(text: string): string | null {
  return alone.exec(toAsciiDigits(text).trim())?.[1] ?? null;
}

/** `47 1`, `Q47: do not sample`: the tag and what stands behind it, or null when no tag stands in front. */
export function tagAndWords(text: string): { readonly tag: string; readonly rest: string } | null {
  const found = withWords.exec(toAsciiDigits(text).trim());
  return found ? { tag: found[1]!, rest: (found[2] ?? '').trim() } : null;
}

/** The tag that a text begins with, whatever follows. */
export function tagInFront(text: string): string | null {
  return inFront.exec(toAsciiDigits(text))?.[1] ?? null;
}

/** The first digits of a text that could be a tag, for looking up what it may be about. */
export function tagAnywhere(text: string): string | null {
  return anywhere.exec(toAsciiDigits(text))?.[0] ?? null;
}
