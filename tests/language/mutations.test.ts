/**
 * What happens to a translation in a hurry: a text is lost, a digit is another one, a caution is left out, a value or a word to send
 * is misspelt. The rules of `check` find ninety-nine of a hundred, and its list of what changed since it was compared with English names
 * every one.
 */
import { basename } from 'node:path';
import { describe, expect, it } from 'vitest';
import { olderThanEnglish } from '../../src/cli/older-english.ts';
import { type CardTexts, readCards } from '../../src/content/cards-file.ts';
import { checkCardTexts } from '../../src/content/check-cards.ts';
import { checkCautions } from '../../src/content/check-cautions.ts';
import { withSaidVars } from '../../src/content/check-content.ts';
import { checkSentWords } from '../../src/content/check-sent-words.ts';
import { checkSentences } from '../../src/content/check-sentences.ts';
import { checkTexts } from '../../src/content/check-texts.ts';
import { type Content, packageRoot } from '../../src/content/load.ts';
import { fromEnglishSource, localeSources } from '../../src/content/locale-sources.ts';
import type { Locale } from '../../src/content/texts.ts';
import { registry as named } from '../../src/conversation/matters.ts';
import { drawFrom } from '../../src/conversation/random.ts';
import { wordsOf } from '../../src/text/fold.ts';
import { screenBreak } from '../../src/text/screens.ts';
import { soak } from '../support/runs.ts';
import { shipped } from '../support/shipped.ts';

const registry = withSaidVars(named);
const english = shipped.sources.locales.find(({ tag }) => tag === 'en')!;
const tongues = shipped.sources.locales.filter(({ tag }) => tag !== 'en');
/** Where in a text it happens is drawn: once in each push. */
const seeds = soak ? [1, 2, 3, 4, 5, 6, 7, 8] : [1];
/** Texts that have what a kind takes, at least: digits are the scarcest. */
const least = soak ? 200 : 100;

interface Mutation {
  readonly kind: string;
  /** Name of its file. */
  readonly name: string;
  readonly key: string;
  /** null: the text is lost. */
  readonly text: string | null;
}

const sentences = (text: string): readonly string[] =>
  text.split(screenBreak).flatMap((one) => one.split(/(?<=[.!?:;؟؛]) /u));

/** One of each kind, where this text has what it takes. */
const kinds: Readonly<
  Record<string, (text: string, pick: (of: number) => number, locale: Locale) => string | null | undefined>
> = {
  'a lost text': () => null,
  'another digit': (text, pick) => {
    const digits = [...text.matchAll(/(?<![\p{L}{])\d/gu)].filter(({ index }) => !inBraces(text, index));
    const at = digits[pick(digits.length)]?.index;
    return at === undefined
      ? undefined
      : `${text.slice(0, at)}${(Number(text[at]) + 1 + pick(8)) % 10}${text.slice(at + 1)}`;
  },
  'a caution left out': (text, pick, { cautions }) => {
    const all = Object.values(cautions ?? {}).flat();
    const said = sentences(text).filter(
      (one) => !/\{|\d/u.test(one) && all.some((word) => ` ${wordsOf(one)} `.includes(` ${word} `)),
    );
    const gone = said[pick(said.length)];
    return gone === undefined || sentences(text).length < 2 ? undefined : text.replace(gone, '');
  },
  'a broken reference': (text, pick) => {
    const names = [...text.matchAll(/\{([a-zA-Z]+)\}/gu)];
    const name = names[pick(names.length)]?.[1];
    return name === undefined ? undefined : text.replace(`{${name}}`, `{${name.slice(0, -1)}x}`);
  },
};

function inBraces(text: string, at: number): boolean {
  return text.lastIndexOf('{', at) > text.lastIndexOf('}', at);
}

/** Of each text that has what it takes, one; on a push each text is of one kind only. A caution is left out where a list names it. */
function mutationsOf(locale: Locale, kind: string, seed: number): readonly Mutation[] {
  const names = Object.keys(kinds);
  const draw = drawFrom(Uint8Array.of(...Array.from({ length: 15 }, () => 0), seed));
  const pick = (of: number): number => (of === 0 ? 0 : draw.below(of));
  return locale.files
    .flatMap(({ name, texts }) => [...texts].map(([key, text]) => ({ name, key, text })))
    .filter(({ key }) => !key.endsWith('_brief') && !/_(?:zero|one|two|few|many)$/u.test(key))
    .filter((_, index) => soak || kind === 'another digit' || names[index % names.length] === kind)
    .map(({ name, key, text }) => ({ kind, name, key, was: text, text: kinds[kind]!(text, pick, locale) }))
    .flatMap(({ was, text, ...one }) => (text === undefined || text === was ? [] : [{ ...one, text }]));
}

/** The language with all of them. */
function mutated(locale: Locale, mutations: readonly Mutation[]): Locale {
  const files = locale.files.map((file) => {
    const texts = new Map(file.texts);
    for (const { name, key, text } of mutations) {
      if (name !== file.name) continue;
      if (text === null) texts.delete(key);
      else texts.set(key, text);
    }
    return { ...file, texts };
  });
  return { ...locale, files };
}

/** The texts of a language that a rule names, as `file.key`. */
function namedIn(locale: Locale): ReadonlySet<string> {
  const locales = [english, locale];
  const content: Content = { ...shipped, sources: { ...shipped.sources, locales } };
  const problems = [
    ...checkTexts(content, { ...registry, textKeys: [] }),
    ...checkCautions(locales),
    ...checkSentWords(locales),
    ...checkSentences(locales),
  ].filter(({ file }) => file.startsWith(`${locale.folder}/`));
  return new Set(problems.map(({ file, path }) => `${basename(file, '.json')}.${path}`));
}

/** Without its form: plural, voice, leave to be long. */
function plain(one: string): string {
  return one.replace(/\.long\./u, '.').replace(/_\w+$/u, '');
}

describe.each(tongues.map((locale) => ({ tag: locale.tag, locale })))('in $tag', ({ locale }) => {
  it('ninety-nine of a hundred mutations break a rule, and all others are listed as not compared since', () => {
    const [base, own] = [localeSources(packageRoot, 'en'), localeSources(packageRoot, locale.tag)];
    const recorded = fromEnglishSource(packageRoot, locale.tag);
    // Each kind weighs the same, however many texts it finds.
    const shares = Object.keys(kinds).flatMap((kind) =>
      seeds.map((seed) => {
        const all = mutationsOf(locale, kind, seed);
        expect(all.length, kind).toBeGreaterThan(least);
        // A rule names the text itself, another form of it, or its leave to be long: none is found for what was done to another.
        const named = new Set([...namedIn(mutated(locale, all))].map(plain));
        const touched = new Set(all.map(({ name, key }) => plain(`${name}.${key}`)));
        expect([...named].filter((one) => !touched.has(one))).toEqual([]);
        const missed = all.filter(({ name, key }) => !named.has(plain(`${name}.${key}`)));
        const changed = new Map(own);
        for (const { name, key, text } of missed) {
          changed.set(
            name,
            JSON.stringify({ ...(JSON.parse(changed.get(name)!) as Record<string, unknown>), [key]: text }),
          );
        }
        const listed = new Set(olderThanEnglish(base, changed, recorded));
        const unlisted = missed.filter(({ name, key }) => !listed.has(`${name}.${key}`));
        expect(unlisted).toEqual([]);
        return { missed, share: missed.length / all.length };
      }),
    );
    const share = shares.reduce((sum, one) => sum + one.share, 0) / shares.length;
    // All that were missed are shown where they are too many.
    expect(share > 0.01 ? shares.flatMap(({ missed }) => missed) : []).toEqual([]);
  });

  it('no rule names a text that nobody changed', () => {
    expect([...namedIn(locale)]).toEqual([]);
  });
});

/** The printed cards of a language. */
const cardsOf = ({ tag }: Locale): CardTexts => readCards(packageRoot, tag, [])!;

/** What happens to a card; a lost text is missed where the cards are laid out. */
const ofCards: typeof kinds = {
  ...kinds,
  'a sentence left out': (text: string, pick: (of: number) => number): string | undefined => {
    const all = sentences(text);
    const gone = pick(all.length);
    return all.length < 2 ? undefined : all.filter((_one, at) => at !== gone).join(' ');
  },
};

describe.each(tongues.map((locale) => ({ tag: locale.tag, locale })))('on the cards in $tag', ({ locale }) => {
  const own = cardsOf(locale);
  const problemsWith = (changes: Readonly<Record<string, string>>): ReadonlySet<string> => {
    const cards = { ...own, texts: new Map([...own.texts, ...Object.entries(changes)]) };
    const found = checkCardTexts({ locale: english, cards: cardsOf(english) }, { locale, cards });
    return new Set(found.map(({ path }) => path));
  };

  it.each(['another digit', 'a caution left out', 'a broken reference', 'a sentence left out'])(
    'nineteen of twenty texts with %s are named, in both voices',
    (kind) => {
      const draw = drawFrom(Uint8Array.of(...Array.from({ length: 15 }, () => 0), 1));
      const pick = (of: number): number => (of === 0 ? 0 : draw.below(of));
      const changes = [...own.texts].flatMap(([key, text]) => {
        const becomes = ofCards[kind]!(text, pick, locale);
        return typeof becomes === 'string' && becomes !== text ? [[key, becomes] as const] : [];
      });
      expect(changes.length).toBeGreaterThan(10);
      const named = problemsWith(Object.fromEntries(changes));
      const missed = changes.filter(([key]) => !named.has(key));
      expect(missed.length / changes.length > 0.05 ? missed : []).toEqual([]);
    },
  );

  it('no rule names a text that nobody changed', () => {
    expect([...problemsWith({})]).toEqual([]);
  });
});
