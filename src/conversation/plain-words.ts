import { foldWord } from '../text/fold.ts';

/** The words of a text, folded: lower case, without accents or punctuation, digits as ASCII. */
export function asciiWords(text: string): readonly string[] {
  return foldWord(text)
    .split(/[^\p{L}\p{N}]+/u)
    .filter((one) => one !== '');
}
