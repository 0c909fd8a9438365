/** The printed cards of a language, and what is wrong with their texts. */
import { pagesOf } from '../cards/book.ts';
import type { Page } from '../cards/page.ts';
import type { Place } from '../cards/told.ts';
import type { Programme } from '../conversation/programme.ts';
import type { Voice } from '../conversation/texts.ts';
import { type CardTexts, readCards, sayerOf } from './cards-file.ts';
import { checkCardTexts } from './check-cards.ts';
import type { Content } from './load.ts';
import type { Problem } from './problem.ts';
import { baseLocale } from './texts.ts';

export interface CardsOf {
  readonly pages: readonly Page[];
  readonly problems: readonly Problem[];
}

/** What is asked for: a language that has texts, a voice, the words that the line takes, the place where the cards hang. */
export interface CardsWanted {
  readonly locale: string;
  readonly voice: Voice;
  readonly keywords: readonly string[];
  readonly place: Place;
}

/** Nothing is known of the place: all is written in by hand. */
export const unknownPlace: Place = {
  clinic: null,
  hospital: null,
  night: null,
  voice: null,
  line: null,
  laboratory: null,
};

/**
 * What the programme knows of a site, or of all its sites where `site` is null: then only what is the same at all of them. A voice
 * number that cannot be dialled (`bench:voice`) is not known. `line`: what phones write to.
 */
export function placeOf(programme: Programme, site: string | null, line: string | null): Place {
  const sites = programme.sites.filter((one) => site === null || one.id === site);
  const same = (of: (one: Programme['sites'][number]) => string): string | null => {
    const all = [...new Set(sites.map(of))];
    return all.length === 1 && all[0] !== '' ? all[0]! : null;
  };
  const voice = same((one) => one.voiceNumber);
  const labId = same((one) => one.labId);
  const lab = programme.laboratories.find((one) => one.id === labId);
  return {
    clinic: same((one) => one.name),
    hospital: same((one) => one.hospital),
    night: same((one) => one.night),
    voice: voice !== null && /^[+\d][\d ()/-]+$/u.test(voice) ? voice : null,
    line,
    laboratory: lab ? { name: lab.name, address: lab.address } : null,
  };
}

/** A place of which everything is known, for the check. */
const knownPlace: Place = {
  clinic: 'ORUMA CLINIC',
  hospital: 'Tamboro Hospital',
  night: 'Tamboro Hospital, gate 2',
  voice: '+000 555 0100',
  line: '1234',
  laboratory: { name: 'Lab Velin', address: 'Box 7, Velin' },
};

/** Lays out the cards. Pages whose words do not fit are left out and are a problem. `root`: the package. */
export function cardsOf(content: Content, root: string, wanted: CardsWanted): CardsOf {
  const read = textsOf(root, wanted.locale);
  return read.own === null ? { pages: [], problems: read.problems } : laidOut(content, read.own, read.english, wanted);
}

/**
 * Problems of the cards of all languages, in both voices, at a place of which nothing and one of which everything is known. A package
 * whose English has none has no cards.
 */
export function cardProblems(content: Content, root: string, keywords: readonly string[]): readonly Problem[] {
  if (textsOf(root, baseLocale).isMissing) return [];
  const base = content.sources.locales.find(({ tag }) => tag === baseLocale);
  return content.sources.locales.flatMap((one) => {
    const locale = one.tag;
    const read = textsOf(root, locale);
    if (read.own === null) return read.problems;
    const { own, english } = read;
    const all = (['plain', 'brief'] as const).flatMap((voice) =>
      [unknownPlace, knownPlace].map((place) => laidOut(content, own, english, { locale, voice, keywords, place })),
    );
    const used = new Set(all.flatMap((one) => [...one.said]));
    const other =
      base && one !== base ? checkCardTexts({ locale: base, cards: english }, { locale: one, cards: own }) : [];
    return [...all.flatMap(({ problems }) => problems), ...unusedOf(own, used), ...other];
  });
}

type ReadTexts =
  | { readonly own: CardTexts; readonly english: CardTexts; readonly isMissing: false }
  | { readonly own: null; readonly isMissing: boolean; readonly problems: readonly Problem[] };

function textsOf(root: string, locale: string): ReadTexts {
  const problems: Problem[] = [];
  const english = readCards(root, baseLocale, problems);
  const own = locale === baseLocale ? english : readCards(root, locale, problems);
  if (english !== null && own !== null && problems.length === 0) return { own, english, isMissing: false };
  const isMissing = problems.length === 0;
  const file = `locales/${english === null ? baseLocale : locale}/cards.json`;
  const missing = { file, line: 1, path: '-', what: 'the file is missing', todo: 'add it' };
  return { own: null, isMissing, problems: isMissing ? [missing] : problems };
}

function laidOut(
  content: Content,
  own: CardTexts,
  english: CardTexts,
  { locale, voice, keywords, place }: CardsWanted,
): CardsOf & { readonly said: ReadonlySet<string> } {
  const sayer = sayerOf(own, english, voice);
  const words = content.sources.locales.find(({ tag }) => tag === locale)?.keywords ?? {};
  const { pages, overfull } = pagesOf({
    locale,
    texts: content.texts,
    say: sayer.say,
    words: new Map(keywords.map((one) => [one, words[one] ?? [one]])),
    place,
  });
  const at = (path: string, what: string, todo: string): Problem => ({
    ...{ file: own.file, line: own.lineOf([path]), path, what, todo },
  });
  const problems = [
    ...[...sayer.lacking].map((key) => at(key, 'the text is missing', `write ${key}`)),
    ...[...sayer.unknownValues].map(([key, name]) => at(key, `there is no value ${name}`, 'use a clinical number')),
    ...overfull.map((number) => at('-', `card ${number} (${voice}) does not fit a page`, 'shorten its texts')),
  ];
  return { pages, problems, said: sayer.said };
}

/** Words for keywords that the line does not have yet may stand there. */
function unusedOf(own: CardTexts, used: ReadonlySet<string>): readonly Problem[] {
  return [...own.texts.keys()]
    .filter((key) => !used.has(key) && !key.startsWith('word-'))
    .map((key) => ({
      ...{ file: own.file, line: own.lineOf([key]), path: key },
      ...{ what: 'is never used', todo: 'remove it, or name it in a card' },
    }));
}
