/** The figures of a language by voice and group of texts, and the screens that break a rule of wording. */
import { fitsScreen, unitsOfScreen } from '../../text/segments.ts';
import type { Problem } from '../problem.ts';
import { baseLocale } from '../texts.ts';
import type { WordGroup } from './groups.ts';
import type { MeasuredScreen } from './measure.ts';

/** A group of texts of one language and voice. */
export interface WordRow {
  readonly locale: string;
  readonly voice: 'plain' | 'brief';
  readonly group: WordGroup;
  readonly screens: number;
  /** Share of function words, in percent, over all words of the group together. */
  readonly functionWords: number;
  /** Screens of more than 150 characters, with the widest names. */
  readonly over150: number;
  /** Screens that do not fit: more than one segment, or two parts of what GSM-7 cannot write. */
  readonly overOne: number;
  /** Screens of more than six options beside none and cannot tell. */
  readonly overSix: number;
  /** Options that begin with a figure. */
  readonly quantities: number;
  /** Words in capitals a screen, but for those that are sent, pencilled or a side. */
  readonly capitals: number;
  /** Words of the longest sentence. */
  readonly longest: number;
  /** Sentences of four words or more without a verb. */
  readonly verbless: number;
  /** Different words that stand neither in the everyday list nor in the glossary. */
  readonly uncommon: number;
}

/** Most options of a screen. */
export const mostOptions = 6;

/** Most words of a sentence: English has fewer small words than its neighbours (our convention). */
export function mostWords(tag: string): number {
  return tag === baseLocale ? 14 : 18;
}

/** Least share of function words, in percent, by group: what is printed beside the figure. */
export const leastFunctionWords: Readonly<Partial<Record<WordGroup, number>>> = { choice: 33, briefing: 30 };

/** One row a voice and group, in the order in which they first come. */
export function wordRows(locale: string, screens: readonly MeasuredScreen[]): readonly WordRow[] {
  const groups = new Map<string, MeasuredScreen[]>();
  for (const one of screens) {
    const name = `${one.voice}\n${one.group}`;
    groups.set(name, [...(groups.get(name) ?? []), one]);
  }
  const sum = (of: readonly MeasuredScreen[], count: (one: MeasuredScreen) => number): number =>
    of.reduce((all, one) => all + count(one), 0);
  return [...groups.values()].map((of) => ({
    locale,
    voice: of[0]!.voice,
    group: of[0]!.group,
    screens: of.length,
    functionWords: Math.round(
      (100 * sum(of, (one) => one.functionWords)) /
        Math.max(
          1,
          sum(of, (one) => one.words),
        ),
    ),
    over150: of.filter(({ units }) => units > 150).length,
    overOne: of.filter(({ text }) => !fitsScreen(text)).length,
    overSix: of.filter(({ options }) => options.length > mostOptions).length,
    quantities: sum(of, (one) => one.quantities.length),
    capitals: Math.round((10 * sum(of, (one) => one.capitals.length)) / of.length) / 10,
    longest: Math.max(...of.map((one) => one.longestWords)),
    verbless: sum(of, (one) => one.verbless.length),
    uncommon: new Set(of.flatMap((one) => one.uncommon.map((word) => word.toLowerCase()))).size,
  }));
}

/** Groups whose instructions are held against the list of verbs. */
const instructing: ReadonlySet<WordGroup> = new Set(['briefing', 'first aid']);

/** Rules of a screen that it breaks. A text with a reason under `long` in its file breaks none. */
export function wordProblems(screens: readonly MeasuredScreen[]): readonly Problem[] {
  return screens.flatMap((one) => {
    const { entry, screen, text } = one;
    if (entry.ownKey in entry.file.long) return [];
    const at = { file: entry.file.file, line: entry.file.lineOf([entry.ownKey]), path: entry.ownKey };
    const which = one.screens > 1 ? `screen ${screen} ` : '';
    const found: Problem[] = [];
    const add = (what: string, todo: string): void => void found.push({ ...at, what: `${which}${what}`, todo });
    if (!fitsScreen(text)) {
      const room = unitsOfScreen(one.encoding);
      add(
        `takes ${one.segments} segments (${one.units} of ${room} characters with the widest names)`,
        `shorten: ${text}`,
      );
    }
    if (one.options.length > mostOptions) add(`has ${one.options.length} options`, 'six at most: split the question');
    for (const said of one.quantities) add(`has an option that begins with a figure: ${said}`, 'write it in words');
    const most = mostWords(entry.file.locale);
    if (one.longestWords > most) {
      add(`has a sentence of ${one.longestWords} words: ${one.longestSentence}`, `${most} at most: cut it in two`);
    }
    if (!instructing.has(one.group)) return found;
    for (const said of one.verbless) add(`says without a verb: ${said}`, 'say what to do, to what');
    return found;
  });
}
