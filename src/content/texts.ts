/** Texts of all languages, resolved by i18next and compiled once, so that the message path only puts values in. */
import { createInstance } from 'i18next';
import { withPointedCodes } from '../case/code.ts';
import { saidNumbers } from '../clinical/said-numbers.ts';
import type { AlarmWords } from '../conversation/hearing/alarm-words.ts';
import type { Lookup, Term, Texts, Voice } from '../conversation/texts.ts';
import type { TextKey } from '../generated/text-keys.ts';
import { drawnRightToLeft, isRightToLeft } from '../text/direction.ts';
import { foldWord, wordsOf } from '../text/fold.ts';
import { compileTemplate, renderTemplate, type Template } from '../text/render.ts';
import type { EverydayWords, LocaleFile, LocaleKeywords, LocaleMeta } from './locale-file.ts';

/** A language as read from its folder. */
export interface Locale {
  readonly tag: string;
  /** Folder, e.g. `locales/en`. */
  readonly folder: string;
  readonly meta: LocaleMeta | null;
  readonly keywords: LocaleKeywords;
  /** Words of danger; null where the file is missing or faulty. */
  readonly alarm: AlarmWords | null;
  /** Words that everybody knows; null where the file is missing or faulty. */
  readonly everyday: EverydayWords | null;
  /** Words of what no translation may drop; null where the file is missing or faulty. */
  readonly cautions: LocaleKeywords | null;
  readonly files: readonly LocaleFile[];
}

/** The language every text exists in. */
export const baseLocale = 'en';

/** What a language is called, as its folder is: `en`, `fr-CM`. */
export const localeForm = /^[a-z]{2,3}(-[A-Z]{2})?$/u;

const pluralForm = /_(zero|one|two|few|many|other)$/u;
/** The context in which i18next finds the brief text: `key_brief` beside `key`, `key_brief_one` beside `key_one`. */
const briefContext = 'brief' satisfies Voice;
const briefKey = new RegExp(`_${briefContext}$`, 'u');

type Compiled = { readonly kind: 'single'; readonly template: Template } | Plural;
type Voices = Readonly<Record<Voice, Compiled>>;
interface Plural {
  readonly kind: 'plural';
  readonly tag: string;
  readonly forms: ReadonlyMap<string, Template>;
  readonly other: Template;
}

const rules = new Map<string, Intl.PluralRules>();

/** Plural rules of a language, made when they are first asked for. */
function rulesOf(tag: string): Intl.PluralRules {
  const known = rules.get(tag) ?? new Intl.PluralRules(tag);
  rules.set(tag, known);
  return known;
}

/** Key without its plural form and its voice. */
export function baseKey(key: string): string {
  return key.replace(pluralForm, '').replace(briefKey, '');
}

/** The plural form that a key of a file is for; null = it has none. */
export function formOfKey(key: string): string | null {
  return pluralForm.exec(key)?.[1] ?? null;
}

/** The voice that a key of a file is in. */
export function voiceOfKey(key: string): Voice {
  return briefKey.test(key.replace(pluralForm, '')) ? 'brief' : 'plain';
}

/** Every text of every language. A text that a language lacks is the English one. */
export function compileTexts(locales: readonly Locale[]): Texts {
  const i18n = createInstance({
    initAsync: false,
    lng: baseLocale,
    fallbackLng: baseLocale,
    showSupportNotice: false,
    ns: [...new Set(locales.flatMap((locale) => locale.files.map((file) => file.name)))],
    keySeparator: false,
    nsSeparator: '.',
    interpolation: { prefix: '{', suffix: '}', escapeValue: false },
    resources: Object.fromEntries(
      locales.map((locale) => [
        locale.tag,
        Object.fromEntries(locale.files.map((file) => [file.name, Object.fromEntries(file.texts)])),
      ]),
    ),
  } as Parameters<typeof createInstance>[0]);
  i18n.init();
  // Values are put in later, by our own single pass: i18next only finds the text.
  const raw = (tag: string, key: string, voice: Voice, of: { readonly count?: number } = {}) => {
    const inVoice = voice === briefContext ? { context: briefContext } : {};
    return compileTemplate(withNumbers(i18n.t(key, { lng: tag, skipInterpolation: true, ...inVoice, ...of })));
  };

  const keys = new Map<string, Compiled['kind']>();
  const brief = new Set<string>();
  for (const file of locales.flatMap((locale) => locale.files)) {
    for (const own of file.texts.keys()) {
      const key = `${file.name}.${baseKey(own)}`;
      keys.set(key, pluralForm.test(own) ? 'plural' : 'single');
      if (voiceOfKey(own) === briefContext) brief.add(key);
    }
  }
  const compile = (tag: string, key: string, voice: Voice): Compiled => {
    if (keys.get(key) === 'single') return { kind: 'single', template: raw(tag, key, voice) };
    const forms = countsOf(tag)
      .filter(([form]) => i18n.exists(`${key}_${form}`, { lng: tag }))
      .map(([form, count]) => [form, raw(tag, key, voice, { count })] as const);
    const other = new Map(forms).get('other') ?? compileTemplate(key);
    return { kind: 'plural', tag, forms: new Map(forms), other };
  };
  // A line speaks a few of its texts, of one or two languages, all day: each is compiled when it is first said.
  const compiled = new Map(locales.map(({ tag }) => [tag, new Map<string, Voices>()]));
  const voicesOf = (tag: string, key: string): Voices | undefined => {
    const known = compiled.get(tag)?.get(key);
    if (known || !keys.has(key)) return known;
    const plain = compile(tag, key, 'plain');
    const voices = { plain, brief: brief.has(key) ? compile(tag, key, briefContext) : plain };
    compiled.get(tag)?.set(key, voices);
    return voices;
  };
  return textsOf(voicesOf, (key) => keys.has(key), locales);
}

function textsOf(
  voicesOf: (tag: string, key: string) => Voices | undefined,
  isKey: (key: string) => boolean,
  locales: readonly Locale[],
): Texts {
  const tags = new Map(locales.map(({ tag }) => [tag, tag]));
  const options = new Map(locales.map((locale) => [locale.tag, optionWords(locale)]));
  const keywords = new Map(locales.map((locale) => [locale.tag, keywordWords(locale)]));
  const shown = new Map(locales.map((locale) => [locale.tag, locale.keywords]));
  const folded = new Map<string, readonly string[]>();
  const months = new Map(locales.flatMap((locale) => (locale.meta ? [[locale.tag, locale.meta.months] as const] : [])));
  /** The language asked for, its parent (`fr` for `fr-CM`), then English. */
  const chain = <T>(all: ReadonlyMap<string, T>, tag: string): readonly T[] =>
    [...new Set([tag, tag.split('-')[0]!, baseLocale])].map((one) => all.get(one)).filter((one) => one !== undefined);

  /** Languages whose own name begins in letters that are written from right to left. */
  const turned = new Set(locales.filter(({ meta }) => isRightToLeft(meta?.name ?? '')).map(({ tag }) => tag));
  const glossaries = new Map(
    locales.map((locale) => [locale.tag, termsOf(locale)] as const).filter(([, terms]) => terms.length > 0),
  );
  const everyday = new Map(locales.flatMap((one) => (one.everyday ? [[one.tag, one.everyday.all] as const] : [])));
  const alarms = new Map(locales.flatMap(({ tag, alarm }) => (alarm ? [[tag, alarm] as const] : [])));
  /** Of whom nothing is known: English with slips, the others as they stand, which takes little room. */
  const ofAnybody = [...alarms].map(([tag, one]) => (tag === baseLocale ? one : { ...one, slips: false as const }));
  const heardIn = new Map(
    [...alarms.keys()].map((tag) => {
      const [own, ...others] = chain(alarms, tag);
      return [tag, own ? [own, ...others.map((one) => besideOwn(own, one))] : []] as const;
    }),
  );
  const languages = locales
    .map(({ tag, meta }) => ({ tag, name: meta?.name ?? tag }))
    .sort((a, b) => Number(b.tag === baseLocale) - Number(a.tag === baseLocale));

  return {
    languages,
    render: (locale, key, lookup, voice = 'plain') => {
      const tag = tags.has(locale) ? locale : chain(tags, locale)[0]!;
      const compiled = voicesOf(tag, key)?.[voice];
      if (!compiled) throw new Error(`no text ${key}`);
      return renderTemplate(compiled.kind === 'single' ? compiled.template : formOf(compiled, lookup), lookup);
    },
    has: (key): key is TextKey => isKey(key),
    label: (locale, field, option) => {
      for (const words of chain(options, locale)) {
        const found = words.get(`${field}\n${option}`) ?? words.get(`*\n${option}`);
        if (found) return found[0]!;
      }
      return option;
    },
    words: (locale, field, option) => {
      const key = `${locale}\n${field}\n${option}`;
      const known = folded.get(key);
      if (known) return known;
      const all = chain(options, locale).flatMap((words) => {
        const [own, common] = [words.get(`${field}\n${option}`), words.get(`*\n${option}`) ?? []];
        // Who does not know says so in the same words at every question.
        return own && option === 'unknown' ? [...own, ...common] : (own ?? common);
      });
      const words = [...new Set([...all, option].map(foldWord))];
      // What nobody shipped is not kept: options of a programme's own come and go.
      if (all.length > 0) folded.set(key, words);
      return words;
    },
    keyword: (locale, word) => {
      const folded = foldWord(word);
      const bare = folded.replace(/(?<=.)[.!]+$/u, '');
      for (const words of chain(keywords, locale)) {
        const found = words.get(bare);
        // `stop!` is shouted to a patient or to the needle: only the word alone leaves the line.
        if (found !== undefined) return found === 'STOP' && bare !== folded ? null : found;
      }
      return null;
    },
    keywordShown: (locale, keyword) => chain(shown, locale)[0]?.[keyword]?.[0]?.toUpperCase() ?? keyword,
    alarmWords: (locale) => (locale === null ? ofAnybody : (chain(heardIn, locale)[0] ?? [])),
    terms: (locale) => chain(glossaries, locale)[0] ?? [],
    isEveryday: (locale, word) => chain(everyday, locale)[0]?.has(word) === true,
    months: (locale) => chain(months, locale)[0] ?? [],
    spokenClock: (locale) => locales.find(({ tag }) => tag === locale)?.meta?.clock ?? null,
    asDrawn: (locale, words) => (turned.has(locale) ? drawnRightToLeft(withPointedCodes(words)) : words),
  };
}

/**
 * Cries of another language as they are heard beside the reader's own: as they stand (`urgente` is no slip of `urgent`), and not
 * where the own language denies, asks, remembers or means something else (`pas urgent`).
 */
function besideOwn(own: AlarmWords, other: AlarmWords): AlarmWords {
  const both = (of: (words: AlarmWords) => readonly string[]): readonly string[] => [...of(other), ...of(own)];
  return {
    ...{ ...other, slips: false as const },
    ...{ fillers: both((one) => one.fillers), no: both((one) => one.no), not: both((one) => one.not) },
    ...{ joins: both((one) => one.joins), turns: both((one) => one.turns), over: both((one) => one.over) },
    ...{ asked: both((one) => one.asked), past: both((one) => one.past), present: both((one) => one.present) },
    ...{ others: both((one) => one.others), lures: both((one) => one.lures) },
  };
}

/** A count of each plural form that the language has: by it i18next finds the form's text. */
function countsOf(tag: string): readonly (readonly [Intl.LDMLPluralRule, number])[] {
  // Not kept: what loads the texts can be frozen into a snapshot, which holds no rules of a language.
  const rules = new Intl.PluralRules(tag);
  const counts = [...Array(101).keys(), 1_000_000, 0.1, 1.5];
  return rules.resolvedOptions().pluralCategories.flatMap((form) => {
    const count = counts.find((one) => rules.select(one) === form);
    return count === undefined ? [] : [[form, count] as const];
  });
}

/** Clinical numbers are the same for everybody: they stand in the text from now on. */
function withNumbers(text: string): string {
  return text.replace(/\{([a-zA-Z]+)\}/gu, (whole, name: string) => saidNumbers[name] ?? whole);
}

/** A plural text always carries `{count}`: its value chooses the form. */
function formOf(plural: Plural, lookup: Lookup): Template {
  return plural.forms.get(rulesOf(plural.tag).select(Number(lookup('count')))) ?? plural.other;
}

function optionWords(locale: Locale): ReadonlyMap<string, readonly string[]> {
  const words = new Map<string, readonly string[]>();
  for (const file of locale.files) {
    for (const [field, ids] of Object.entries(file.options)) {
      for (const [id, list] of Object.entries(ids)) words.set(`${field}\n${id}`, list.map(withNumbers));
    }
  }
  return words;
}

/** Terms of the glossary: its options named `term`, whose texts explain them. */
export function termsOf(locale: Locale): readonly Term[] {
  return locale.files.flatMap((file) =>
    Object.entries(file.options.term ?? {}).map(([id, words]) => {
      const shown = [...words, id];
      return { id, words: shown.map(wordsOf), shown };
    }),
  );
}

function keywordWords(locale: Locale): ReadonlyMap<string, string> {
  return new Map(
    Object.entries(locale.keywords).flatMap(([keyword, words]) =>
      words.map((word) => [foldWord(word), keyword] as const),
    ),
  );
}
