/** Texts: present in every language, saying the same, short enough, and writable on SMS. */
import type { Voice } from '../conversation/texts.ts';
import { isGsm7 } from '../text/gsm7.ts';
import { screensOf } from '../text/screens.ts';
import { countSegments, fitsScreen, unitsOfScreen } from '../text/segments.ts';
import { isFigure } from '../text/time-words.ts';
import type { CheckRegistry } from './check-registry.ts';
import { suggestion } from './closest.ts';
import type { Content } from './load.ts';
import type { Problem } from './problem.ts';
import { numbersOf, valuesOf } from './same-content.ts';
import { indexTexts, type TextEntry, textUses, typicalText } from './text-index.ts';
import { baseLocale, formOfKey, type Locale } from './texts.ts';

type Index = ReadonlyMap<string, readonly TextEntry[]>;

/** Problems of all texts of all languages. */
export function checkTexts(content: Content, registry: CheckRegistry): readonly Problem[] {
  const { locales, flows } = content.sources;
  const base = locales.find((locale) => locale.tag === baseLocale);
  if (!base) return [];
  const english = indexTexts(base);
  const problems: Problem[] = [];
  for (const source of flows) {
    for (const use of textUses(source.flow)) {
      if (english.has(use.key)) continue;
      const [file, key] = use.key.split('.');
      const todo = suggestion(use.key, english.keys(), `add ${key} to locales/${baseLocale}/${file}.json`);
      const line = source.lineOf(use.path);
      problems.push({ file: source.file, line, path: use.path.join('.'), what: `there is no text ${use.key}`, todo });
    }
  }
  problems.push(...hidden(base, registry), ...unused(content, english, registry));
  for (const locale of locales) {
    const index = locale === base ? english : indexTexts(locale);
    for (const entries of index.values()) {
      for (const entry of entries) problems.push(...checkEntry(entry, locale, registry));
    }
    problems.push(...checkLong(locale));
    problems.push(...pluralForms(locale, index));
    if (locale !== base) problems.push(...compareTexts(base, locale));
  }
  return problems;
}

function at(entry: TextEntry, what: string, todo: string): Problem {
  const { file, ownKey } = entry;
  return { file: file.file, line: file.lineOf([ownKey]), path: ownKey, what, todo };
}

function checkEntry(entry: TextEntry, locale: Locale, registry: CheckRegistry): readonly Problem[] {
  const problems: Problem[] = [];
  if (entry.template.braces === 'faulty') {
    problems.push(at(entry, 'has a brace without its partner', 'write {name}, or no brace at all'));
  }
  for (const name of entry.template.placeholders) {
    if (!registry.values || registry.values.has(name) || registry.vars?.has(name)) continue;
    problems.push(at(entry, `there is no value ${name}`, suggestion(name, registry.values.keys(), 'add the value')));
  }
  const odd = [...new Set(screensOf(entry.text).join(''))].filter((sign) => !isGsm7(sign));
  if (odd.length > 0 && locale.meta?.alphabet !== 'UCS-2') {
    problems.push(at(entry, `not in the SMS alphabet: ${odd.join(' ')}`, 'write it with letters of GSM-7'));
    return problems;
  }
  if (entry.ownKey in entry.file.long) return problems;
  const screens = screensOf(typicalText(entry.template, registry));
  for (const [index, screen] of screens.entries()) {
    if (fitsScreen(screen)) continue;
    const { encoding, segments, units } = countSegments(screen);
    const which = screens.length > 1 ? `screen ${index + 1} ` : '';
    const what = `${which}takes ${segments} segments (${units} of ${unitsOfScreen(encoding)} characters at usual widths)`;
    problems.push(at(entry, what, 'shorten it, make it several screens, or give the reason under "long"'));
  }
  return problems;
}

function checkLong(locale: Locale): readonly Problem[] {
  return locale.files.flatMap((file) =>
    Object.keys(file.long)
      .filter((key) => !file.texts.has(key))
      .map((key) => {
        const todo = suggestion(key, file.texts.keys(), 'remove it');
        return {
          file: file.file,
          line: file.lineOf(['long', key]),
          path: `long.${key}`,
          what: `there is no text ${key}`,
          todo,
        };
      }),
  );
}

function pluralForms(locale: Locale, index: Index): readonly Problem[] {
  const needed = new Intl.PluralRules(locale.tag).resolvedOptions().pluralCategories;
  const ofOneVoice = [...index.values()].flatMap((entries) => [inVoice(entries, 'plain'), inVoice(entries, 'brief')]);
  return ofOneVoice.flatMap((entries) => {
    const [first, ...more] = entries;
    if (!first) return [];
    const own = `${first.key.split('.')[1]}${first.voice === 'brief' ? '_brief' : ''}`;
    if (first.ownKey === own && more.length === 0) return [];
    const forms = entries.map((entry) => entry.ownKey.slice(entry.ownKey.lastIndexOf('_') + 1));
    const lacking = needed.filter((form) => !forms.includes(form));
    if (lacking.length === 0) return [];
    return [at(first, `lacks the plural form ${lacking.join(', ')}`, `add ${own}_${lacking[0]}`)];
  });
}

/** Of a text's entries those of one voice: a language may have brief texts that another lacks. */
function inVoice(entries: readonly TextEntry[], voice: Voice): readonly TextEntry[] {
  return entries.filter((one) => one.voice === voice);
}

/** What a language lacks of the English texts, and where its texts have other values or numbers. */
export function compareTexts(base: Locale, locale: Locale): readonly Problem[] {
  const [english, index] = [indexTexts(base), indexTexts(locale)];
  const problems: Problem[] = [];
  const absent = base.files.filter((file) => !locale.files.some((one) => one.name === file.name));
  for (const { name } of absent) {
    const what = `the file is missing, so ${locale.tag} falls back to English`;
    problems.push({ file: `${locale.folder}/${name}.json`, line: 1, path: '-', what, todo: 'translate it' });
  }
  for (const [key, all] of english) {
    const entries = inVoice(all, 'plain');
    const there = inVoice(index.get(key) ?? [], 'plain');
    const [name, own] = key.split('.');
    const file = locale.files.find((one) => one.name === name);
    if (there.length === 0) {
      const todo = `translate ${own}`;
      if (file) problems.push({ file: file.file, line: 1, path: own!, what: 'the text is missing', todo });
      continue;
    }
    problems.push(...sameContent(entries, there, figuredMonths(base, locale)));
  }
  for (const [key, entries] of index) {
    if (english.has(key)) continue;
    problems.push(at(entries[0]!, 'English has no such text', suggestion(key, english.keys(), 'remove it')));
  }
  return problems;
}

/** Names of months that the other language says as figures; empty where it says names too. */
function figuredMonths(base: Locale, locale: Locale): readonly string[] {
  return (locale.meta?.months ?? []).every(isFigure) ? (base.meta?.months ?? []) : [];
}

function sameContent(
  english: readonly TextEntry[],
  there: readonly TextEntry[],
  figured: readonly string[],
): readonly Problem[] {
  const first = there[0]!;
  const [wanted, own] = [english, there].map((entries) => valuesOf(entries.map(({ template }) => template)));
  if (wanted !== own) {
    return [at(first, `has the values ${own || 'none'}, English has ${wanted || 'none'}`, 'use the same')];
  }
  // One form of a plural may say its number in words; the form for most numbers is compared.
  const [ofEnglish, ofOther] = [english, there].map(
    (all) => all.find(({ ownKey }) => formOfKey(ownKey) === 'other') ?? all[0]!,
  );
  const [ours, theirs] = [numbersOf(ofEnglish!.template, figured), numbersOf(ofOther!.template)];
  if (ours === theirs) return [];
  return [at(first, `has the numbers ${theirs || 'none'}, English has ${ours || 'none'}`, 'write the same numbers')];
}

/** What code hands over under the name of a value is never shown. */
function hidden(base: Locale, registry: CheckRegistry): readonly Problem[] {
  return [...(registry.vars?.keys() ?? [])]
    .filter((name) => registry.hiding?.has(name))
    .map((name) => ({
      ...{ file: base.folder, line: 1, path: `{${name}}` },
      ...{ what: 'is handed over with a text and is a value too, which hides it', todo: 'give one another name' },
    }));
}

function unused(content: Content, english: Index, registry: CheckRegistry): readonly Problem[] {
  if (!registry.textKeys) return [];
  const used = new Set(content.sources.flows.flatMap((source) => textUses(source.flow).map((use) => use.key)));
  const endings = registry.textKeys.filter((key) => key.endsWith('*')).map((key) => key.slice(0, -1));
  for (const key of registry.textKeys) used.add(key);
  return [...english]
    .filter(([key]) => !used.has(key) && !endings.some((start) => key.startsWith(start)))
    .map(([, entries]) => at(entries[0]!, 'is never used', 'remove it, or name it in a flow'));
}
