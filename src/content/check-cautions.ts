/**
 * What no translation may drop, by its words: negations, acts, things, signs of danger, units. `locales/<tag>/cautions.json` has
 * under each name the words of that language; where English says one, so must the other text.
 */
import { wordsOf } from '../text/fold.ts';
import { screensOf } from '../text/screens.ts';
import type { Problem } from './problem.ts';
import { indexTexts, type TextEntry } from './text-index.ts';
import { baseLocale, type Locale } from './texts.ts';

type Says = (text: string) => boolean;

interface Caution {
  readonly id: string;
  readonly inEnglish: Says;
}

/** Problems of the lists of cautions, and of every text of another language that drops one. None where English has no list. */
export function checkCautions(locales: readonly Locale[]): readonly Problem[] {
  const base = locales.find(({ tag }) => tag === baseLocale);
  if (!base?.cautions) return [];
  const cautions = cautionsOf(base);
  const english = [...indexTexts(base).values()].map(saidIn);
  const unsaid = cautions.filter(({ inEnglish }) => !english.some(inEnglish));
  return [
    ...unsaid.map(({ id }) => inList(base, id, 'is said in no text', 'take it out, or say it')),
    ...locales.filter((one) => one !== base).flatMap((one) => [...listProblems(one, cautions), ...dropped(base, one)]),
  ];
}

/** The texts of a language that drop what the English text of the same key says. */
export function dropped(base: Locale, locale: Locale): readonly Problem[] {
  const [cautions, english] = [cautionsOf(base), indexTexts(base)];
  const said = new Map(Object.entries(locale.cautions ?? {}).map(([id, words]) => [id, saysOneOf(words)]));
  return [...indexTexts(locale)].flatMap(([key, entries]) => {
    const [source, text] = [saidIn(english.get(key) ?? []), saidIn(entries)];
    return cautions
      .filter(({ id, inEnglish }) => inEnglish(source) && said.get(id)?.(text) === false)
      .map(({ id }) => drops(entries[0]!, id, locale));
  });
}

function cautionsOf({ cautions }: Locale): readonly Caution[] {
  return Object.entries(cautions ?? {}).map(([id, words]) => ({ id, inEnglish: saysOneOf(words) }));
}

function listProblems(locale: Locale, cautions: readonly Caution[]): readonly Problem[] {
  const { cautions: own } = locale;
  if (own === null) return [inList(locale, '-', 'the file is missing', 'give each caution its words')];
  const known = new Set(cautions.map(({ id }) => id));
  return [
    ...cautions
      .filter(({ id }) => !Object.hasOwn(own, id))
      .map(({ id }) => inList(locale, id, 'is missing', 'give it its words')),
    ...Object.keys(own)
      .filter((id) => !known.has(id))
      .map((id) => inList(locale, id, 'English has no such caution', 'take it out')),
  ];
}

function inList(locale: Locale, path: string, what: string, todo: string): Problem {
  return { file: `${locale.folder}/cautions.json`, line: 1, path, what, todo };
}

function drops({ file, ownKey }: TextEntry, id: string, { folder }: Locale): Problem {
  const todo = `say it, or add its word to ${folder}/cautions.json`;
  return {
    file: file.file,
    line: file.lineOf([ownKey]),
    path: ownKey,
    what: `drops "${id}", which English says`,
    todo,
  };
}

/** The plain text's words, all plural forms and screens; values are no words. */
function saidIn(entries: readonly TextEntry[]): string {
  const plain = entries.filter(({ voice }) => voice === 'plain').map(({ text }) => screensOf(text).join(' '));
  return ` ${wordsOf(plain.join(' ').replace(/\{[^}]*\}/gu, ' '))} `;
}

/** Whether a text says one of the words or phrases; a star stands for any letters (`usi*`). */
function saysOneOf(words: readonly string[]): Says {
  const forms = words.map((one) => one.replaceAll('*', '\\S*')).join('|');
  const form = new RegExp(` (?:${forms})(?= )`, 'u');
  return (text) => form.test(text);
}
