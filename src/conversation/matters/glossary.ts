/** Trade words: which one a text asks about, and which ones a question holds. */
import { foldWord, wordsOf } from '../../text/fold.ts';
import type { Term, Texts } from '../texts.ts';

/** A word that somebody asks about. */
export interface WordAsked {
  /** As it was asked, without what stands around it. */
  readonly said: string;
  /** Null: the glossary lacks it. */
  readonly term: Term | null;
  /** `sign`: behind W or `?`. `sentence`: what does it mean? `perhaps`: words that begin like a question. */
  readonly by: 'sign' | 'sentence' | 'perhaps';
}

/** The term with this spelling, folded, with an article or an s more or not; null: there is none. */
export function termOf(texts: Texts, locale: string, said: string): Term | null {
  const terms = texts.terms(locale);
  const word = wordsOf(said);
  const without = withoutArticle(texts, locale, word);
  const spellings = [word, without, without.replace(/s$/u, '')];
  for (const one of spellings) {
    const found = terms.find((term) => term.words.includes(one));
    if (found) return found;
  }
  return null;
}

/** The word that this text asks about (`W stridor`, `? stridor`, `what does stridor mean`); null: it asks about none. */
export function wordAsked(texts: Texts, locale: string, text: string): WordAsked | null {
  const [, sign = '', word = '', behind = ''] = /^\s*(?:([?¿])|([^\s,;:]+))\s*(.*)$/su.exec(text) ?? [];
  if (sign !== '' || texts.keyword(locale, foldWord(word)) === 'W') {
    const said = wordsOf(behind);
    return /\p{L}/u.test(said) ? { said, term: termOf(texts, locale, said), by: 'sign' } : null;
  }
  // `What does this mean? Is it cancer`: the first question is the one.
  const all = wordsOf(text.split(/[?;.!]/u, 1)[0] ?? '');
  const phrase = longestFirst(texts.words(locale, 'explain', 'what-is')).find((one) => all.startsWith(`${one} `));
  if (phrase === undefined) return null;
  const rest = all.slice(phrase.length + 1);
  const end = longestFirst(texts.words(locale, 'explain', 'mean')).find((one) => rest.endsWith(` ${one}`));
  const said = withoutArticle(texts, locale, end === undefined ? rest : rest.slice(0, -end.length - 1));
  return { said, term: termOf(texts, locale, said), by: end === undefined ? 'perhaps' : 'sentence' };
}

/** Trade words of the glossary in a text, as they stand there, each term once, in their order; none that everybody knows. */
export function tradeWordsIn(texts: Texts, locale: string, text: string): readonly string[] {
  const all = ` ${wordsOf(text)} `;
  const found: { readonly at: number; readonly length: number; readonly shown: string }[] = [];
  for (const { words, shown } of texts.terms(locale)) {
    const here = longestFirst(words).find((one) => all.includes(` ${one} `) && !texts.isEveryday(locale, one));
    if (here === undefined) continue;
    found.push({ at: all.indexOf(` ${here} `), length: here.length, shown: shown[words.indexOf(here)]! });
  }
  // `thyroid scan` holds `thyroid`: of words that lie upon each other the longest is meant.
  type Found = (typeof found)[number];
  const isWithin = (one: Found): boolean =>
    found.some((it) => it.length > one.length && it.at <= one.at && it.at + it.length >= one.at + one.length);
  return found
    .filter((one) => !isWithin(one))
    .sort((a, b) => a.at - b.at)
    .map((one) => one.shown);
}

function withoutArticle(texts: Texts, locale: string, words: string): string {
  const article = texts.words(locale, 'explain', 'article').find((one) => words.startsWith(`${one} `));
  return article === undefined ? words : words.slice(article.length + 1);
}

function longestFirst(words: readonly string[]): readonly string[] {
  return [...words].sort((a, b) => b.length - a.length);
}
