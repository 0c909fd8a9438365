/** Texts of all languages, resolved by i18next and compiled once, so that the message path only puts values in. */
import { createInstance } from 'i18next';
import { saidNumbers } from '../clinical/said-numbers.ts';
import type { AlarmWords } from '../conversation/hearing/alarm-words.ts';
import type { Lookup, Texts } from '../conversation/texts.ts';
import type { TextKey } from '../generated/text-keys.ts';
import { foldWord } from '../text/fold.ts';
import { compileTemplate, renderTemplate, type Template } from '../text/render.ts';
import type { LocaleFile, LocaleKeywords, LocaleMeta } from './locale-file.ts';

/** A language as read from its folder. */
export interface Locale {
  readonly tag: string;
  /** Folder, e.g. `locales/en`. */
  readonly folder: string;
  readonly meta: LocaleMeta | null;
  readonly keywords: LocaleKeywords;
  /** Words of danger; null where the file is missing or faulty. */
  readonly alarm: AlarmWords | null;
  /** Words that most readers know; empty where nobody has listed them. */
  readonly everyday: readonly string[];
  readonly files: readonly LocaleFile[];
}

/** The language every text exists in. */
export const baseLocale = 'en';

const pluralForm = /_(zero|one|two|few|many|other)$/u;

type Compiled = { readonly kind: 'plain'; readonly template: Template } | Plural;
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

/** Key without its plural form. */
export function baseKey(key: string): string {
  return key.replace(pluralForm, '');
}

/** Compiles every text of every language. A text that a language lacks is the English one. */
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
  const raw = (tag: string, key: string) => withNumbers(i18n.t(key, { lng: tag, skipInterpolation: true }));

  const keys = new Map<string, 'plain' | 'plural'>();
  for (const file of locales.flatMap((locale) => locale.files)) {
    for (const key of file.texts.keys()) {
      keys.set(`${file.name}.${baseKey(key)}`, pluralForm.test(key) ? 'plural' : 'plain');
    }
  }
  const byLocale = new Map(
    locales.map((locale) => {
      const compile = ([key, kind]: readonly [string, 'plain' | 'plural']): readonly [string, Compiled] => {
        if (kind === 'plain') return [key, { kind, template: compileTemplate(raw(locale.tag, key)) }];
        const forms = new Intl.PluralRules(locale.tag)
          .resolvedOptions()
          .pluralCategories.filter((form) => i18n.exists(`${key}_${form}`, { lng: locale.tag }))
          .map((form) => [form, compileTemplate(raw(locale.tag, `${key}_${form}`))] as const);
        const other = compileTemplate(raw(locale.tag, `${key}_other`));
        return [key, { kind, tag: locale.tag, forms: new Map(forms), other }];
      };
      return [locale.tag, new Map([...keys].map(compile))];
    }),
  );
  return textsOf(byLocale, locales);
}

function textsOf(byLocale: ReadonlyMap<string, ReadonlyMap<string, Compiled>>, locales: readonly Locale[]): Texts {
  const options = new Map(locales.map((locale) => [locale.tag, optionWords(locale)]));
  const keywords = new Map(locales.map((locale) => [locale.tag, keywordWords(locale)]));
  const shown = new Map(locales.map((locale) => [locale.tag, locale.keywords]));
  const months = new Map(locales.flatMap((locale) => (locale.meta ? [[locale.tag, locale.meta.months] as const] : [])));
  /** The language asked for, its parent (`fr` for `fr-CM`), then English. */
  const chain = <T>(all: ReadonlyMap<string, T>, tag: string): readonly T[] =>
    [...new Set([tag, tag.split('-')[0]!, baseLocale])].map((one) => all.get(one)).filter((one) => one !== undefined);

  const alarms = new Map(locales.flatMap(({ tag, alarm }) => (alarm ? [[tag, alarm] as const] : [])));
  const languages = locales
    .map(({ tag, meta }) => ({ tag, name: meta?.name ?? tag }))
    .sort((a, b) => Number(b.tag === baseLocale) - Number(a.tag === baseLocale));

  return {
    languages,
    render: (locale, key, lookup) => {
      const compiled = chain(byLocale, locale)[0]?.get(key);
      if (!compiled) throw new Error(`no text ${key}`);
      return renderTemplate(compiled.kind === 'plain' ? compiled.template : formOf(compiled, lookup), lookup);
    },
    has: (key): key is TextKey => byLocale.get(baseLocale)?.has(key) ?? false,
    label: (locale, field, option) => {
      for (const words of chain(options, locale)) {
        const found = words.get(`${field}\n${option}`) ?? words.get(`*\n${option}`);
        if (found) return found[0]!;
      }
      return option;
    },
    words: (locale, field, option) => {
      const all = chain(options, locale).flatMap((words) => {
        const [own, common] = [words.get(`${field}\n${option}`), words.get(`*\n${option}`) ?? []];
        // Who does not know says so in the same words at every question.
        return own && option === 'unknown' ? [...own, ...common] : (own ?? common);
      });
      return [...new Set([...all, option].map(foldWord))];
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
    alarmWords: (locale) => (locale === null ? [...alarms.values()] : chain(alarms, locale)),
    months: (locale) => chain(months, locale)[0] ?? [],
  };
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

function keywordWords(locale: Locale): ReadonlyMap<string, string> {
  return new Map(
    Object.entries(locale.keywords).flatMap(([keyword, words]) =>
      words.map((word) => [foldWord(word), keyword] as const),
    ),
  );
}
