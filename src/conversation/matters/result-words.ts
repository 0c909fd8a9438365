/** The words by which a laboratory's free words are read: of its own language, and English. */
import {
  type NamedIn,
  type NamedThing,
  namedIn,
  namedThings,
  type ResultVocabulary,
} from '../../clinical/cytology/result-words.ts';
import { foldWord } from '../../text/fold.ts';
import type { Texts } from '../texts.ts';

/** The vocabulary of a language. */
export function vocabularyOf(texts: Texts, locale: string): ResultVocabulary {
  const words = (id: string): readonly string[] => texts.words(locale, 'result-words', id);
  return {
    things: Object.fromEntries(namedThings.map((thing) => [thing, words(thing)])) as Record<
      NamedThing,
      readonly string[]
    >,
    denials: words('denied'),
    doubts: words('doubted'),
    turns: words('turn'),
  };
}

/** What a laboratory's free words name. */
export function namedInResult(texts: Texts, locale: string, words: string): NamedIn {
  return namedIn(foldWord(words), vocabularyOf(texts, locale));
}
