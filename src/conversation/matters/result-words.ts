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

/**
 * A result's words without what is said to the line and not of the glass (`sorry, mistake`), at their beginning and end. In the
 * middle it stays: it could belong to what was seen.
 */
export function withoutApology(texts: Texts, locale: string, words: string): string {
  const known = texts
    .words(locale, 'lab-words', 'apology')
    .map((one) => one.split(' '))
    .sort((a, b) => b.length - a.length);
  let left = words.split(/\s+/).filter((one) => one !== '');
  const bare = (parts: readonly string[]): string => parts.map((one) => foldWord(one.replace(edges, ''))).join(' ');
  for (;;) {
    const first = known.find((one) => bare(left.slice(0, one.length)) === one.join(' '));
    const last = known.find((one) => left.length >= one.length && bare(left.slice(-one.length)) === one.join(' '));
    if (left.length > 0 && first) left = left.slice(first.length);
    else if (left.length > 0 && last) left = left.slice(0, -last.length);
    else return left.join(' ').replace(/[\s,;:(-]+$/, '');
  }
}

/** Marks around a word that are none of its letters. */
const edges = /^[^\p{L}\p{N}]+|[^\p{L}\p{N}]+$/gu;
