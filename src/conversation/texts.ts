/** Texts as the conversation sees them: compiled at load, so rendering reads no file and calls no builder. */

import type { TextKey } from '../generated/text-keys.ts';
import type { Lookup } from '../text/render.ts';
import type { SpokenClock } from './answers/spoken-clock.ts';
import type { AlarmWords } from './hearing/alarm-words.ts';

export type { Lookup };

/** A trade word that the glossary explains: its text is `glossary.<id>`. */
export interface Term {
  readonly id: string;
  /** Spellings, as `wordsOf` writes them. */
  readonly words: readonly string[];
  /** The same, as they are shown. */
  readonly shown: readonly string[];
}

/**
 * How much a text says: `plain` in whole sentences, `brief` for those who send many. Same question, same options, same
 * digits, same order.
 */
export type Voice = 'plain' | 'brief';

export interface Texts {
  /**
   * The text in this language, English where it lacks one, and in this voice (plain unless said), plain where it has no
   * brief one. Throws on an unknown key: a start refuses such content.
   */
  render(locale: string, key: TextKey, lookup: Lookup, voice?: Voice): string;
  has(key: string): key is TextKey;
  /** Label of an option of a field, for buttons and read-backs. */
  label(locale: string, field: string, option: string): string;
  /** Accepted words of an option, folded, in this language and English. */
  words(locale: string, field: string, option: string): readonly string[];
  /** Keyword meant by a word in this language or English, folded, a full stop behind it or not; null = none. */
  keyword(locale: string, word: string): string | null;
  /** How a keyword is written to people of this language, in capitals. */
  keywordShown(locale: string, keyword: string): string;
  /** Words of danger of this language, its parent and English, the person's own first; null = of every language. */
  alarmWords(locale: string | null): readonly AlarmWords[];
  /** Trade words of this language, of English where it explains none. */
  terms(locale: string): readonly Term[];
  /** Whether everybody knows this word, as it is compared. */
  isEveryday(locale: string, word: string): boolean;
  /** Month names, short, January first. */
  months(locale: string): readonly string[];
  /** How this language says the time where it counts the hours from another one; null = as the clock of 24 hours. */
  spokenClock(locale: string): SpokenClock | null;
  /** The words as they are sent in this language: with what phones need to draw figures in their order. */
  asDrawn(locale: string, words: string): string;
  /** Every language, by tag, English first. */
  readonly languages: readonly { readonly tag: string; readonly name: string }[];
}
