/**
 * Options in words that a tired person knows. The rule: each word of an option, in its label and behind its digit in the
 * question, is on the language's list of everyday words, or belongs to a word that the glossary explains.
 */
import { wordsOf } from '../text/fold.ts';
import { optionLines } from '../text/option-lines.ts';
import { screensOf } from '../text/screens.ts';
import { hasLabel } from './check-words.ts';
import type { FlowSource } from './load.ts';
import type { Problem } from './problem.ts';
import { indexTexts } from './text-index.ts';
import { type Locale, termsOf } from './texts.ts';

type LabelOf = (locale: string, field: string, option: string) => string;

/** Problems of the options of all flows in all languages; one whose list of everyday words is missing has that problem alone. */
export function checkTradeWords(
  locales: readonly Locale[],
  flows: readonly FlowSource[],
  label: LabelOf,
): readonly Problem[] {
  return locales.filter((one) => one.everyday !== null).flatMap((locale) => problemsIn(locale, flows, label));
}

function problemsIn(locale: Locale, flows: readonly FlowSource[], label: LabelOf): readonly Problem[] {
  const phrases = termsOf(locale)
    .flatMap((term) => term.words)
    .sort((a, b) => b.length - a.length);
  const known = (text: string): readonly string[] => unknownWords(text, locale.everyday!.all, phrases);
  const index = indexTexts(locale);
  const seen = new Set<string>();
  const problems: Problem[] = [];
  const report = (at: Pick<Problem, 'file' | 'line' | 'path'>, words: readonly string[]): void => {
    for (const word of words) {
      if (seen.has(word)) continue;
      seen.add(word);
      const what = `${word} in an option is neither an everyday word nor in the glossary`;
      const lists = `explain it in ${locale.folder}/glossary.json, or list it in ${locale.folder}/everyday.json`;
      problems.push({ ...at, what, todo: `write it in everyday words, ${lists}` });
    }
  };
  for (const { flow, file, lineOf } of flows) {
    for (const { name, ask, text } of flow.states.values()) {
      if (!ask) continue;
      const path = ['states', name, 'ask', 'options'];
      // One without a label is refused for that already.
      for (const { id } of ask.options.filter((one) => hasLabel(locale, ask.field, one.id))) {
        report({ file, line: lineOf(path), path: path.join('.') }, known(label(locale.tag, ask.field, id)));
      }
      for (const entry of index.get(text) ?? []) {
        const replies = ask.options.map((one) => one.reply);
        const at = { file: entry.file.file, line: entry.file.lineOf([entry.ownKey]), path: entry.ownKey };
        for (const option of optionsShown(entry.text, replies)) report(at, known(option));
      }
    }
  }
  return problems;
}

/** What stands behind each reply in a question. */
function optionsShown(text: string, replies: readonly string[]): readonly string[] {
  return screensOf(text.replace(/\{[^}]*\}/gu, ' '))
    .flatMap((screen) => optionLines(screen, replies).split('\n').slice(1))
    .flatMap((line) => {
      const [reply = '', ...words] = line.split(' ');
      return replies.includes(reply) ? [words.join(' ')] : [];
    });
}

/** Words of a text that are neither everyday ones nor part of a phrase of the glossary that stands there. */
export function unknownWords(
  text: string,
  everyday: ReadonlySet<string>,
  phrases: readonly string[],
): readonly string[] {
  let rest = ` ${wordsOf(text)} `;
  for (const phrase of phrases) rest = rest.replaceAll(` ${phrase} `, ' ');
  return rest.split(' ').filter((word) => /\p{L}{2}/u.test(word) && !/\d/u.test(word) && !everyday.has(word));
}
