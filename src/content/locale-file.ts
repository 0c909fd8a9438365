import { z } from 'zod';
import type { SpokenClock } from '../conversation/answers/spoken-clock.ts';
import { foldWord, wordsOf } from '../text/fold.ts';
import { screenBreak } from '../text/screens.ts';
import { readJson } from './json-source.ts';
import type { Problem } from './problem.ts';
import { schemaProblems } from './schema-problems.ts';
import type { Path } from './yaml-source.ts';

/** One `locales/<tag>/<name>.json`: texts by key, and what is said about them. */
export interface LocaleFile {
  readonly file: string;
  readonly locale: string;
  /** `aftercare` for `aftercare.json`. */
  readonly name: string;
  /** Texts by key, screens joined by `screenBreak`; plural forms and the brief voice as i18next writes them (`slides_one`, `slides_brief_one`). */
  readonly texts: ReadonlyMap<string, string>;
  /** By field (`*` = any field), then option id: label and further words. */
  readonly options: Readonly<Record<string, Readonly<Record<string, readonly string[]>>>>;
  /** Keys of texts that may be longer than one segment, each with the reason. */
  readonly long: Readonly<Record<string, string>>;
  lineOf(path: Path): number;
}

/** `meta.json` of a language. */
export interface LocaleMeta {
  readonly name: string;
  /** Who read all texts as their readers would, and on which day; '' = nobody. */
  readonly reviewedBy: string;
  readonly reviewedOn: string;
  /** Of the texts as they were read: the hash that `check` prints. Others have others, and nobody read those. */
  readonly reviewedTexts: string;
  /** Short month names, January first. */
  readonly months: readonly string[];
  /** `UCS-2`: the language cannot be written in GSM-7, so its texts have no budget of one segment. */
  readonly alphabet: 'GSM-7' | 'UCS-2';
  /** How it says the time where it counts the hours from another one than midnight. */
  readonly clock: SpokenClock | null;
  /** Words that carry a sentence (the, a, is, to, of ...), about 120: their share tells prose from rows of nouns. */
  readonly functionWords: readonly string[];
  /** Forms of verbs that the texts use: an instruction without one is none. */
  readonly verbs: readonly string[];
  /** Words that stand in capitals because they are pencilled, a side or a name. */
  readonly capitals: readonly string[];
}

/** `everyday.json` of a language: words that need no explaining. */
export interface EverydayWords {
  /** Those of a published list; none where the language has none. */
  readonly familiar: readonly string[];
  /** The same and those that the language adds for people who work in a clinic. */
  readonly all: ReadonlySet<string>;
}

/** `keywords.json` of a language: words by keyword. */
export type LocaleKeywords = Readonly<Record<string, readonly string[]>>;

export type Read<T> = { readonly value: T | null; readonly problems: readonly Problem[] };

const text = z.string().min(1, 'should not be empty');
/** One screen, or a list of screens that go out one after the other. */
const screens = z.union([
  text,
  z
    .array(text)
    .min(2, 'one screen needs no list')
    .transform((all) => all.join(screenBreak)),
]);
const words = text.transform((all) => all.split('|').map((one) => one.trim()));
const keyForm = /^[a-z0-9]+(-[a-z0-9]+)*(_brief)?(_(zero|one|two|few|many|other))?$/u;

const fileSchema = z
  .object({
    options: z.record(z.string(), z.record(z.string(), words)).default({}),
    long: z.record(z.string(), text).default({}),
  })
  .catchall(screens);

/** Words of a list, parted by blanks, so that a list is a few lines of the file. */
const wordList = z
  .string()
  .default('')
  .transform((all) => all.split(/\s+/u).filter((one) => one !== ''));

const hours = z.tuple([z.int().min(0).max(36), z.int().min(0).max(36)]);
const spokenClock = z.strictObject({
  word: text,
  behind: z.int().min(1).max(23),
  parts: z.record(text, hours),
  minutes: z.record(text, z.int().min(-59).max(59)),
});

const metaShape = z.strictObject({
  name: text,
  reviewedBy: z.string().trim(),
  reviewedOn: z.string().regex(/^(\d{4}-\d{2}-\d{2})?$/u, { error: 'a date as 2030-03-04, or empty', abort: true }),
  reviewedTexts: z.string().default(''),
  months: z.array(text).length(12),
  alphabet: z.enum(['GSM-7', 'UCS-2']).default('GSM-7'),
  clock: spokenClock.nullable().default(null),
  functionWords: wordList,
  verbs: wordList,
  capitals: wordList,
});

/** A reading is somebody's, on a day that there is. */
const metaSchema = metaShape.superRefine(({ reviewedBy, reviewedOn }, context) => {
  const fault = (path: string, message: string, todo: string): void =>
    context.addIssue({ code: 'custom', path: [path], message, params: { todo } });
  if (reviewedBy !== '' && reviewedOn === '') fault('reviewedOn', 'is empty', `say on which day ${reviewedBy} read it`);
  if (reviewedBy === '' && reviewedOn !== '') fault('reviewedBy', 'is empty', `say who read it on ${reviewedOn}`);
  if (reviewedOn !== '' && !isDay(reviewedOn))
    fault('reviewedOn', `there is no ${reviewedOn}`, 'give a day that there is');
});

/** `2030-02-30` is written as a day and is none. */
function isDay(written: string): boolean {
  const at = Date.parse(written);
  return !Number.isNaN(at) && new Date(at).toISOString().startsWith(written);
}

const keywordsSchema = z.record(z.string(), words);

/** As many words on a line as there is room for, each whole: `don't` is one word. */
const wordLines = z.array(text).transform((lines) => lines.flatMap((line) => foldWord(line).split(' ')));

const everydaySchema = z.strictObject({ familiar: wordLines.default([]), words: wordLines }).transform(
  ({ familiar, words: own }): EverydayWords => ({
    familiar,
    all: new Set([...familiar, ...own].flatMap((one) => wordsOf(one).split(' '))),
  }),
);

/** Reads the texts of one file. Never throws. */
export function readLocaleFile(locale: string, name: string, file: string, source: string): Read<LocaleFile> {
  const json = readJson(file, source);
  if (json.data === undefined) return { value: null, problems: json.problems };
  const parsed = fileSchema.safeParse(json.data, { reportInput: true });
  if (!parsed.success) {
    return { value: null, problems: [...json.problems, ...schemaProblems(json, parsed.error, [])] };
  }
  const { options, long, ...texts } = parsed.data;
  const problems = [...json.problems];
  for (const key of Object.keys(texts)) {
    if (keyForm.test(key)) continue;
    const todo = 'use small letters, digits and dashes';
    problems.push({ file, line: json.lineOf([key]), path: key, what: 'is no text key', todo });
  }
  const value = { file, locale, name, texts: new Map(Object.entries(texts)), options, long, lineOf: json.lineOf };
  return { value, problems };
}

/** Reads `meta.json`. Never throws. */
export function readMeta(file: string, source: string): Read<LocaleMeta> {
  return readWith(metaSchema, file, source);
}

/** Reads `keywords.json`. Never throws. */
export function readKeywords(file: string, source: string): Read<LocaleKeywords> {
  return readWith(keywordsSchema, file, source);
}

/** Reads `cautions.json`: phrases in their compared form, a star for any letters. Never throws. */
export function readCautions(file: string, source: string): Read<LocaleKeywords> {
  const read = readWith(keywordsSchema, file, source);
  const problems = Object.entries(read.value ?? {}).flatMap(([path, phrases]) =>
    phrases
      .filter((one) => one !== foldWord(one) || /[^\p{L}\p{M}\p{N}* ]/u.test(one))
      .map((one) => ({
        file,
        line: 1,
        path,
        what: `${one} never matches`,
        todo: 'write words alone, in small letters',
      })),
  );
  return { ...read, problems: [...read.problems, ...problems] };
}

/** Reads `everyday.json`: words that everybody knows. Never throws. */
export function readEveryday(file: string, source: string): Read<EverydayWords> {
  return readWith(everydaySchema, file, source);
}

function readWith<T>(schema: z.ZodType<T>, file: string, source: string): Read<T> {
  const json = readJson(file, source);
  if (json.data === undefined) return { value: null, problems: json.problems };
  const parsed = schema.safeParse(json.data, { reportInput: true });
  if (parsed.success) return { value: parsed.data, problems: json.problems };
  return { value: null, problems: [...json.problems, ...schemaProblems(json, parsed.error, [])] };
}
