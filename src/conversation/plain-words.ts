import { foldWord } from '../text/fold.ts';

/** The words of a text, folded: lower case, without accents or punctuation, digits as ASCII. */
export function asciiWords(text: string): readonly string[] {
  return foldWord(text)
    .split(/[^\p{L}\p{N}]+/u)
    .filter((one) => one !== '');
}

/** The word SOS stands anywhere in a text: not within another word, and a digit or point beside it does not hide it. */
export function saysSos(text: string): boolean {
  return /(^|[^\p{L}])s\.?o\.?s([^\p{L}]|$)/u.test(foldWord(text));
}
