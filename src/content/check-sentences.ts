/**
 * A translation has as many sentences as English: one that lacks a sentence lacks what it said, caution or not. Two blanks, or
 * an end with a colon, are what such a sentence leaves behind.
 */
import { screenBreak } from '../text/screens.ts';
import type { Problem } from './problem.ts';
import { indexTexts, type TextEntry } from './text-index.ts';
import { baseLocale, type Locale } from './texts.ts';

/** A sentence, or what stands before a colon: it ends with a sign, or with its screen. */
const ends = new RegExp(`[.!?:;؟؛](?=\\s|$)|${screenBreak}`, 'u');

/** Texts of other languages with fewer sentences than the English text in the same voice. */
export function checkSentences(locales: readonly Locale[]): readonly Problem[] {
  const base = locales.find(({ tag }) => tag === baseLocale);
  if (!base) return [];
  const english = indexTexts(base);
  return locales
    .filter((one) => one !== base)
    .flatMap((locale) => [...indexTexts(locale).values()].flat())
    .flatMap((own) => {
      const all = english.get(own.key)?.filter(({ voice }) => voice === own.voice) ?? [];
      const there = sentencesIn(own.text);
      const least = all.length === 0 ? 0 : Math.min(...all.map(({ text }) => sentencesIn(text)));
      const isWhole = least > 1 || all.some(({ text }) => wordsIn(text) >= fewestWords);
      if (isWhole && there < least) return [lacking(own, there, least)];
      return isTorn(own, all) ? [torn(own)] : [];
    });
}

/** Fewer words of English are a piece of a sentence, which another language may not need: `at 10:40`. */
const fewestWords = 4;

function wordsIn(text: string): number {
  return text.replace(/\{[^}]*\}/gu, '').match(/\p{L}+/gu)?.length ?? 0;
}

/** What a value alone says has no end of its own. */
function sentencesIn(text: string): number {
  const parts = text.replace(/\{[^}]*\}/gu, '').split(ends);
  return parts.filter((one) => /[\p{L}\p{N}]/u.test(one)).length;
}

/** Where something was taken out: two blanks in a row, or a colon at the end behind which nothing comes, unlike in English. */
function isTorn({ text }: TextEntry, english: readonly TextEntry[]): boolean {
  if (/\S {2,}\S/u.test(text)) return true;
  const endsOpen = (one: string): boolean => /:\s*$/u.test(one);
  return endsOpen(text) && english.length > 0 && !english.some((one) => endsOpen(one.text));
}

function torn({ file, ownKey }: TextEntry): Problem {
  const what = 'has two blanks in a row, or ends with a colon';
  return { file: file.file, line: file.lineOf([ownKey]), path: ownKey, what, todo: 'say what is missing there' };
}

function lacking({ file, ownKey }: TextEntry, there: number, least: number): Problem {
  const what = `has ${there} sentences, the English text ${least}`;
  const todo = 'say what is missing, or end each sentence with its sign';
  return { file: file.file, line: file.lineOf([ownKey]), path: ownKey, what, todo };
}
