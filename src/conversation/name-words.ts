/** A name stands in other people's texts, so it must not read like one of the line's own words, in any language. */
import { foldWord } from '../text/fold.ts';
import { saysSos } from './hearing/sos-spelling.ts';
import type { Texts } from './texts.ts';

/** What a name reads like; null = like a name. */
export type ReadsLike = 'digits' | 'sentence' | 'word';

/**
 * `digits`: it holds any, as codes, tags and results do. `sentence`: a full stop that ends no title or initial. `word`: it is
 * or begins with a word that the line understands in any of its languages, or has one in capitals, or SOS or STOP anywhere.
 * Titles (`Dr`) and single letters in front of a name are none.
 */
export function readsLikeTheLine(texts: Texts, name: string): ReadsLike | null {
  if (/\p{N}/u.test(name)) return 'digits';
  if (/\p{L}{5,}\.\s+\S/u.test(name)) return 'sentence';
  const words = name.split(/[^\p{L}\p{M}]+/u).filter((one) => one !== '');
  const isOurs = words.some((word, index) => {
    const folded = foldWord(word);
    const keywords = texts.languages.flatMap(({ tag }) => texts.keyword(tag, folded) ?? []);
    if (keywords.length === 0) return false;
    if (keywords.includes('STOP') || keywords.includes('SOS')) return true;
    const isInitial = [...word].length === 1;
    const isTitle = isInitial || (index === 0 && keywords.every((one) => one === 'DOCTOR'));
    const isShouted = !isInitial && word === word.toUpperCase() && word !== word.toLowerCase();
    return (index === 0 || isShouted) && !(isTitle && words.length > 1);
  });
  return isOurs || saysSos(name) ? 'word' : null;
}
