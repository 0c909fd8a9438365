/** Free words of one person inside another person's text: they stay within their place and cannot look like the line's own. */

/** Signs that turn, hide or end a line: controls, line and paragraph ends, turned directions, halves of a character. */
const breaks = /[\p{Cc}\p{Zl}\p{Zp}]+/gu;
const hidden =
  /[\p{Cs}\u00ad\u061c\u200b\u200e\u200f\u202a-\u202e\u2060-\u206f\ufeff\ufff9-\ufffb\u{e0000}-\u{e007f}]/gu;

/** The text on one line, without signs that nobody sees. Joiners of letters stay: some scripts cannot be read without them. */
export function onOneLine(text: string): string {
  return text.replace(hidden, '').replace(breaks, ' ').replace(/ {2,}/g, ' ').trim();
}

/**
 * Free words as they are shown to somebody else: on one line, at most so many characters (what is left out is shown as three
 * dots; the history keeps all), and without the marks that the text around them is closed with.
 */
export function quotedWords(text: string, mostCharacters: number): string {
  const plain = [...onOneLine(text).replace(/["“”„‟«»]/g, "'")];
  return plain.length <= mostCharacters ? plain.join('') : `${plain.slice(0, mostCharacters).join('').trimEnd()}...`;
}

/** Longest free words that one text carries for somebody else, characters: two segments beside the case. Our convention. */
export const longestQuoted = 300;

/**
 * True for the name of a person or place: letters, digits, spaces and the marks that names have, 60 characters at the most. It
 * stands in other people's texts, so it holds no line end, no colon and no quotation mark, and does not begin like a tag.
 */
export function isName(text: string): boolean {
  return /^(?!q\d)\p{L}[\p{L}\p{M}\p{N} .,'’()/&-]{0,59}$/iu.test(text);
}

/** One name, or for a shared phone the names of all who use it, joined by `/`. */
export function areNames(text: string, shared: boolean): boolean {
  if (!shared) return isName(text);
  return text.length <= 160 && text.split('/').every((one) => isName(one.trim()));
}
