/** Free words of one person inside another person's text: they stay within their place and cannot look like the line's own. */

import { foldToGsm7 } from './gsm7.ts';

/** Signs that turn, hide or end a line: controls, line and paragraph ends, turned directions, halves of a character. */
const breaks = /[\p{Cc}\p{Zl}\p{Zp}]+/gu;
const hidden =
  /[\p{Cs}\u00ad\u061c\u200b\u200e\u200f\u202a-\u202e\u2060-\u206f\ufeff\ufff9-\ufffb\u{e0000}-\u{e007f}]/gu;

/** The text on one line, without signs that nobody sees. Joiners of letters stay: some scripts cannot be read without them. */
export function onOneLine(text: string): string {
  return text.replace(hidden, '').replace(breaks, ' ').replace(/ {2,}/g, ' ').trim();
}

/**
 * What a reader may take for a quotation mark or for half of one: whatever Unicode calls a quotation mark, whatever the fold to
 * the network's letters makes one, and what looks like one. The look-alikes are from memory of Unicode's list of confusable
 * signs, which is not at hand here: one that is missing there is missing here.
 */
const likeMarks = [
  '\\p{Quotation_Mark}',
  '`\\u00a8\\u00b4', // accents and a diaeresis that stand alone
  '\\u02b9-\\u02bf\\u02c8\\u02ca\\u02cb\\u02dd\\u02ee\\u02f4-\\u02f6', // modifier letters
  '\\u0374\\u0384\\u1fbd\\u1fbf\\u1fef\\u1ffd\\u1ffe', // Greek
  '\\u055a\\u055b\\u055d\\u05f3\\u05f4\\u07f4\\u07f5\\u1cd3', // Armenian, Hebrew, N'Ko, Vedic
  '\\u2032-\\u2037\\u2057', // primes
  '\\u275b-\\u2760\\u276e\\u276f\\u{1f676}-\\u{1f678}', // ornaments
  '\\u226a\\u226b\\u27ea\\u27eb\\u3003\\u300a\\u300b\\ua78b\\ua78c\\uff40', // doubled angles, ditto mark, saltillo, wide grave
].join('');

/** A run of them is one: two single ones beside each other, or with an unseen sign between, look like a double one. */
const marks = new RegExp(
  `(?:[${likeMarks}]|(?<![\\p{L}\\p{M}])[\\u0300\\u0301\\u030b\\u030d-\\u030f])(?:\\p{Default_Ignorable_Code_Point}*[${likeMarks}\\u0300\\u0301\\u030b\\u030d-\\u030f])*`,
  'gu',
);

/**
 * Free words as they are shown to somebody else: on one line, in the network's letters, at most so many characters (what is
 * left out is shown as three dots; the history keeps all), and without the marks that the text around them is closed with.
 */
export function quotedWords(text: string, mostCharacters: number): string {
  const plain = [...foldToGsm7(onOneLine(text)).replace(marks, "'")];
  return plain.length <= mostCharacters ? plain.join('') : `${plain.slice(0, mostCharacters).join('').trimEnd()}...`;
}

/** The same between the marks, for words that stand beside some of our own; '' where there are none. */
export function inMarks(text: string, mostCharacters: number): string {
  const words = quotedWords(text, mostCharacters);
  return words === '' ? '' : `"${words}"`;
}

/** Longest free words that one text carries for somebody else, characters: two segments beside the case. Our convention. */
export const longestQuoted = 300;

/** An apostrophe of a name that stands alone. */
const apostrophe = /(?<!['’ʼʻ])['’ʼʻ](?!['’ʼʻ])/gu;
const likeAMark = new RegExp(`[${likeMarks}]`, 'u');

/**
 * True for the name of a person: letters, spaces and the marks that names have, 60 characters at the most. It
 * stands in other people's texts, so it holds no line end, no digit, no colon and nothing like a quotation mark.
 */
export function isName(text: string): boolean {
  if (likeAMark.test(text.replace(apostrophe, ''))) return false;
  return /^\p{L}[\p{L}\p{M} .,'’ʼʻ()/&-]{0,59}$/iu.test(text);
}

/** One name, or for a shared phone the names of all who use it, joined by `/`. */
export function areNames(text: string, shared: boolean): boolean {
  if (!shared) return isName(text);
  return text.length <= 160 && text.split('/').every((one) => isName(one.trim()));
}
