/** Words that a text tells people to send are shown in each language as that language hears them. */
import { foldWord } from '../text/fold.ts';
import { screensOf } from '../text/screens.ts';
import type { LocaleKeywords } from './locale-file.ts';
import type { Problem } from './problem.ts';
import { indexTexts, type TextEntry } from './text-index.ts';
import { baseLocale, type Locale } from './texts.ts';

/** Words in capitals that say other things too: `NO NEEDLE`, `STOP and press`, `READ BACK`. */
const alsoSaid: ReadonlySet<string> = new Set(
  'NEW NO YES BACK STOP START ON OFF END LOST SEEN BAD ADD ASK POST GONE NOTDONE SAY W CHANGE NOPARCEL LATER WELL SAME FINE'.split(
    ' ',
  ),
);

interface SentWord {
  /** As English shows it. */
  readonly shown: string;
  /** Other words stand for it too, or it says other things too: it is sent where `send` stands before it. */
  readonly isAside: boolean;
  /** As the other language hears it, folded; the first is the one to show. */
  readonly own: readonly string[];
}

/** Texts of other languages that do not show a word which their English text tells people to send. */
export function checkSentWords(locales: readonly Locale[]): readonly Problem[] {
  const base = locales.find(({ tag }) => tag === baseLocale);
  if (!base) return [];
  const english = new Map([...indexTexts(base)].map(([key, entries]) => [key, plainOf(entries)]));
  return locales
    .filter((one) => one !== base)
    .flatMap((locale) => {
      const sent = sentWords(base, locale);
      return [...indexTexts(locale)].flatMap(([key, entries]) => {
        const source = english.get(key);
        const there = source === undefined ? [] : sent.filter((one) => tellsToSend(source, one));
        if (there.length === 0) return [];
        const words = new Set((plainOf(entries).match(/\p{L}+/gu) ?? []).filter(isCapital).map(foldWord));
        return there
          .filter(({ own }) => !own.some((one) => words.has(one)))
          .map(({ shown, own }) => notShown(entries[0]!, shown, own[0]!.toUpperCase()));
      });
    });
}

/** Scripts without capitals show their words as they are. */
function isCapital(word: string): boolean {
  return word === word.toUpperCase();
}

function tellsToSend(text: string, { shown, isAside }: SentWord): boolean {
  const before = isAside ? '(?<=[Ss]end )' : '(?<![\\p{L}\\d])';
  return new RegExp(`${before}${shown}(?![\\p{L}\\d])`, 'u').test(text);
}

/** Keywords and the answers to an open alarm, each word of English that is more than a letter. */
function sentWords(base: Locale, locale: Locale): readonly SentWord[] {
  const heard = ({ keywords, alarm }: Locale) => ({ ...keywords, ...alarm?.answers }) as LocaleKeywords;
  const there = heard(locale);
  return Object.entries(heard(base)).flatMap(([id, words]) => {
    const own = (there[id] ?? []).map(foldWord);
    if (own.length === 0) return [];
    return words
      .filter((one) => /^\p{L}{2,}$/u.test(one))
      .map((one) => one.toUpperCase())
      .map((shown, index) => ({ shown, isAside: index > 0 || alsoSaid.has(shown), own }));
  });
}

function plainOf(entries: readonly TextEntry[]): string {
  const plain = entries.filter(({ voice }) => voice === 'plain').map(({ text }) => screensOf(text).join(' '));
  return plain.join(' ').replace(/\{[^}]*\}/gu, ' ');
}

function notShown({ file, ownKey }: TextEntry, shown: string, own: string): Problem {
  const what = `does not show the word for ${shown}`;
  return { file: file.file, line: file.lineOf([ownKey]), path: ownKey, what, todo: `show ${own}` };
}
