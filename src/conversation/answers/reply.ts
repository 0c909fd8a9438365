import { toAsciiDigits } from '../../text/digits.ts';
import { foldWord, visible } from '../../text/fold.ts';

/** Longest reply that is read as digits or words, in characters: ten joined GSM parts (our convention). Longer = `too-long`. */
export const longestReply = 1530;

/** The reply with visible signs only, trimmed, digits of every script as ASCII digits. Letters keep case and accents. */
export function tidy(text: string): string {
  return toAsciiDigits(visible(text));
}

/** Folded words of a reply, parted at spaces and listing signs (`,` `;` `/` `+` `&` `|`), bare of punctuation around them. */
export function wordsOf(text: string): readonly string[] {
  return foldWord(text)
    .split(/[\s,;/+&|،؛、，；।۔]+/u)
    .map(bare)
    .filter((word) => word !== '');
}

/** A word without punctuation and symbols around it: `1.`, `(1)`, `"yes"`. */
export function bare(word: string): string {
  return word.replace(/^[\p{P}\p{S}]+/u, '').replace(/[\p{P}\p{S}]+$/u, '');
}

/** Longest run of words from `from` that stands in the vocabulary; null = not even the first word does. */
export function longestPhrase<T>(
  words: readonly string[],
  from: number,
  vocabulary: ReadonlyMap<string, T>,
  mostWords: number,
): { readonly meaning: T; readonly length: number } | null {
  for (let length = Math.min(mostWords, words.length - from); length >= 1; length -= 1) {
    const meaning = vocabulary.get(words.slice(from, from + length).join(' '));
    if (meaning !== undefined) return { meaning, length };
  }
  return null;
}
