import { firstWord } from '../text/first-word.ts';
import { foldWord } from '../text/fold.ts';
import type { Texts } from './texts.ts';

/** Whether words behind NEW ask for practice: nothing of it reaches a laboratory, the stock or a figure. */
export function asksPractice(texts: Texts, locale: string, words: string): boolean {
  return texts.words(locale, 'new-words', 'practice').includes(foldWord(firstWord(words)));
}
