/** How a language speaks, in figures: what `words` of `check` prints. A machine's reading is no tired nurse. */
import { foldWord } from '../../text/fold.ts';
import { compileTemplate, renderTemplate, type Template } from '../../text/render.ts';
import { screensOf } from '../../text/screens.ts';
import { countSegments, type SegmentCount } from '../../text/segments.ts';
import type { CheckRegistry } from '../check-registry.ts';
import type { FlowSource } from '../load.ts';
import { indexTexts, type TextEntry } from '../text-index.ts';
import type { Locale } from '../texts.ts';
import { type AskedWith, askedTexts, groupOf, type WordGroup } from './groups.ts';
import { atItsWidest, twoTargets } from './long-values.ts';
import { takeApart, wordsOf } from './sentences.ts';

/** One screen of one text, measured. */
export interface MeasuredScreen {
  readonly entry: TextEntry;
  readonly voice: 'plain' | 'brief';
  readonly group: WordGroup;
  /** From 1. */
  readonly screen: number;
  readonly screens: number;
  /** With the widest names. */
  readonly text: string;
  readonly encoding: SegmentCount['encoding'];
  readonly segments: number;
  readonly units: number;
  /** Options beside `0` and `9`, none and cannot tell. */
  readonly options: readonly string[];
  /** Words of options that begin with a figure. */
  readonly quantities: readonly string[];
  readonly words: number;
  readonly functionWords: number;
  readonly longestSentence: string;
  readonly longestWords: number;
  /** Words in capitals that are no tag, side, reply or keyword. */
  readonly capitals: readonly string[];
  /** Sentences of four words or more without a verb, that ask nothing and are no option. */
  readonly verbless: readonly string[];
  /** Words that a reader may not know, as written. */
  readonly uncommon: readonly string[];
}

/** Names of people and places, numbers to dial and codes are no words of ours. */
const names: ReadonlySet<string> = new Set(
  [
    'tag hospital night site lab voice doctor who by code codePlain shownCode nodule clinicPhone doctorPhones labPhone number',
    'numbers from words said oneTag otherTag needleTag lead leadCode leadTag tagCode q',
  ].flatMap((line) => line.split(' ')),
);

/** `none` and `cannot tell` and the like: the numbers that stand beside the options. */
const beside = /^(?:0|9|[2-8]0)$/u;

/** Every screen of a language, measured with the widest names. */
export function measureScreens(
  locale: Locale,
  flows: readonly FlowSource[],
  registry: CheckRegistry,
): readonly MeasuredScreen[] {
  const asked = askedTexts(flows);
  const known = wordLists(locale);
  return [...indexTexts(locale).values()].flat().flatMap((entry) => {
    const ours = screensOf(filled(entry.template, registry, (name, value) => (names.has(name) ? '' : value)));
    const whole = screensOf(filled(entry.template, registry, (_, value) => value));
    const replies = (asked.get(entry.key)?.replies ?? []).map((one) =>
      filled(compileTemplate(one), registry, (_, value) => value),
    );
    const group = groupOf(entry.key, asked);
    return whole.map((text, index) =>
      measured(entry, { group, replies }, { ours: ours[index] ?? '', text, index, screens: whole.length }, known),
    );
  });
}

function filled(template: Template, registry: CheckRegistry, put: (name: string, value: string) => string): string {
  return renderTemplate(template, (name) =>
    put(name, twoTargets.get(name) ?? atItsWidest(registry.samples?.get(name) ?? 'xxxxxx')),
  );
}

/** The lists of a language that a text is held against. */
interface WordLists {
  readonly functionWords: ReadonlySet<string>;
  readonly verbs: ReadonlySet<string>;
  readonly everyday: ReadonlySet<string>;
  /** Words that are written in capitals because they are sent, pencilled or a side. */
  readonly capitals: ReadonlySet<string>;
}

function wordLists({ meta, keywords, everyday }: Locale): WordLists {
  const folded = (words: readonly string[] = []): ReadonlySet<string> => new Set(words.map(foldWord));
  return {
    functionWords: folded(meta?.functionWords),
    verbs: folded(meta?.verbs),
    everyday: folded([...(everyday?.familiar ?? []), ...(meta?.functionWords ?? []), ...(meta?.verbs ?? [])]),
    capitals: folded([...(meta?.capitals ?? []), ...Object.keys(keywords), ...Object.values(keywords).flat()]),
  };
}

function measured(
  entry: TextEntry,
  { group, replies }: AskedWith,
  { ours, text, index, screens }: { ours: string; text: string; index: number; screens: number },
  known: WordLists,
): MeasuredScreen {
  const { options, sentences } = takeApart(ours, replies);
  const words = sentences.flatMap(wordsOf);
  const isKnown = (word: string): boolean => stems(foldWord(word)).some((one) => known.everyday.has(one));
  const longest = sentences.map((one) => [one, wordsOf(one).length] as const).sort((a, b) => b[1] - a[1])[0];
  const { encoding, segments, units } = countSegments(text);
  const asides = new Set(options.map(({ words: said }) => said));
  return {
    entry,
    voice: entry.voice,
    group,
    screen: index + 1,
    screens,
    text,
    encoding,
    segments,
    units,
    options: options.filter(({ reply }) => !beside.test(reply)).map(({ reply }) => reply),
    quantities: options.filter(({ words: said }) => /^\d/u.test(said)).map(({ words: said }) => said),
    words: words.length,
    functionWords: words.filter((word) => known.functionWords.has(foldWord(word))).length,
    longestSentence: longest?.[0] ?? '',
    longestWords: longest?.[1] ?? 0,
    capitals: words.filter((word) => /^\p{Lu}{2,}$/u.test(word) && !known.capitals.has(foldWord(word))),
    verbless: sentences
      // A language without a list of verbs is not held against one.
      .filter((one) => known.verbs.size > 0 && !asides.has(one) && !one.endsWith('?') && wordsOf(one).length >= 4)
      .filter((one) => !wordsOf(one).some((word) => known.verbs.has(foldWord(word)))),
    uncommon: words.filter((word) => !/^\p{Lu}{2,}$/u.test(word) && !isKnown(word)),
  };
}

/** A word and what it may be a form of, by the regular endings of English; other languages' words stand as they are. */
function stems(word: string): readonly string[] {
  const cutOff = [/'s$/u, /s$/u, /es$/u, /ed$/u, /d$/u, /ing$/u, /er$/u, /ly$/u, /ies$/u, /est$/u];
  return [
    word,
    ...cutOff.filter((ending) => ending.test(word)).map((ending) => word.replace(ending, '')),
    ...(/ies$/u.test(word) ? [word.replace(/ies$/u, 'y')] : []),
    ...(/(?:ing|ed)$/u.test(word) ? [word.replace(/(?:ing|ed)$/u, 'e'), word.replace(/(.)\1(?:ing|ed)$/u, '$1')] : []),
    ...word.split('-').filter((part) => part !== word && part.length > 2),
  ];
}
