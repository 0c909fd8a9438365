/** A doctor's own words for a choice: `82 refer`, `82 refer to surgery`. */
import { foldWord } from '../text/fold.ts';
import { refersBy } from './matters/filing.ts';
import type { Question } from './state.ts';
import type { Texts } from './texts.ts';

/** Choices that words may go on behind (`follow up in 6 months`): none of them lets a needle in or closes anything. */
const mayGoOn: ReadonlySet<string> = new Set([...refersBy, 'not-thyroid', 'follow-up', 'go-to-hospital']);

/** As it is compared: folded, words parted by one space. */
function plain(text: string): string {
  return foldWord(text)
    .replace(/[^\p{L}\p{M}\p{N}]+/gu, ' ')
    .trim();
}

/** What stands behind `start`, at the end of a word; null = the text does not begin so. */
function behind(text: string, start: string): string | null {
  if (text === start) return '';
  return text.startsWith(`${start} `) ? text.slice(start.length + 1) : null;
}

/**
 * The choice that these words name, and what is said behind it. Null where they could mean anything else: a doubt, a
 * condition, two choices at once, or a needle with more beside it than politeness (our convention).
 */
export function choiceInWords(
  texts: Texts,
  locale: string,
  question: Pick<Question, 'about' | 'options'>,
  said: string,
): { readonly id: string; readonly words: string } | null {
  const list = (field: string, id: string): readonly string[] =>
    texts
      .words(locale, field, id)
      .map(plain)
      .filter((one) => one !== '')
      .sort((a, b) => b.length - a.length);
  const holds = (text: string, phrase: string): boolean => ` ${text} `.includes(` ${phrase} `);
  const filler = list('doctor-words', 'filler');
  const withoutFiller = (text: string): string => {
    const next = filler.map((one) => behind(text, one)).find((rest) => rest !== null);
    return next === undefined || next === null ? text : withoutFiller(next);
  };
  const text = plain(said);
  const named = question.options
    .flatMap((option) => list(question.about, option.id).map((phrase) => ({ option, phrase })))
    .sort((a, b) => b.phrase.length - a.phrase.length);
  for (const start of new Set([text, withoutFiller(text)])) {
    const found = named.find(({ phrase }) => behind(start, phrase) !== null);
    if (!found) continue;
    const { option, phrase } = found;
    const rest = behind(start, phrase) ?? '';
    if (said.includes('?')) return null;
    if (withoutFiller(rest) === '') return { id: option.id, words: '' };
    const goesOn = list('doctor-words', 'onward').some((one) => behind(rest, one) !== null);
    const isDoubted = list('doctor-words', 'doubt').some((one) => holds(rest, one));
    const other = named.some((one) => one.option.id !== option.id && holds(rest, one.phrase));
    const free = question.about !== 'asked' && mayGoOn.has(option.id);
    return free && goesOn && !isDoubted && !other ? { id: option.id, words: behindWords(said, rest) } : null;
  }
  return null;
}

/** The last words as they were written: as many as `rest` has. */
function behindWords(said: string, rest: string): string {
  const count = rest.split(' ').length;
  const written = [...said.matchAll(/[\p{L}\p{M}\p{N}]+/gu)];
  return said.slice(written.at(-count)?.index ?? 0).replace(/[.\s]+$/, '');
}
