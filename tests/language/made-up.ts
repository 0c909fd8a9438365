/**
 * A made-up language: English in which each letter that the language supplies is written as another one, one for one, that no
 * English word has and that SMS carries at the same price. What people type stays English, so that scripts go on as they are.
 */
import { cpSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { type Content, loadContent, packageRoot } from '../../src/content/load.ts';
import { foldWord } from '../../src/text/fold.ts';

export const madeUp = 'qx';

const plain = 'abcdefghijklmnopqrstuvwxyz';
/** Letters of GSM-7; those of words that the line writes in capitals stay the same in capitals. */
const marked = 'ΔèΦΓΛΩΠΨΣàùΘΞÅØòìÄÖÜÇÑÉßÆæ';

/** Words that end an open alarm: shown in capitals and compared without accents, which Greek letters alone come through. */
const alarmWords = ['same', 'worse', 'going', 'well', 'cannot', 'gone', 'fine'];
const greek = 'ΔΦΓΛΩΠΨ';
const alarmWord = new RegExp(`(?<![a-z])(?:${alarmWords.join('|')})(?![a-z])`, 'giu');
const markedAlarmWord = new RegExp(`([${greek}])\\1{3,}`, 'gu');

/** What is sent as a letter alone, the same in every language: answers where the digits are used up, and B and W. */
export const answerLetters = 'ABCGHPTW';

/** The text in the made-up language; placeholders, digits, signs and answers of one letter stay. */
export function mark(text: string): string {
  const letter = (one: string) => marked[plain.indexOf(one.toLowerCase())]!;
  const letters = (run: string) => (run.length === 1 && answerLetters.includes(run) ? run : run.replace(/./gu, letter));
  const words = (one: string) => greek[alarmWords.indexOf(one.toLowerCase())]!.repeat(one.length);
  return text
    .split(/(\{[a-zA-Z][A-Za-z0-9.-]*\})/u)
    .map((part) => (part.startsWith('{') ? part : part.replace(alarmWord, words).replace(/[a-z]+/giu, letters)))
    .join('');
}

/** What was meant, in small English letters; letters of English stay as they are. */
export function meant(text: string): string {
  return text
    .replace(markedAlarmWord, (_all, one: string) => alarmWords[greek.indexOf(one)]!)
    .replace(/\p{L}/gu, (one) => {
      const at = marked.includes(one) ? marked.indexOf(one) : marked.indexOf(one.toLowerCase());
      return at < 0 ? one : plain[at]!;
    });
}

type Json = string | readonly Json[] | { readonly [key: string]: Json };

/** Every word in the file that people are shown. */
function marks(value: Json): Json {
  if (typeof value === 'string') return mark(value);
  if (Array.isArray(value)) return value.map(marks);
  return Object.fromEntries(Object.entries(value).map(([key, one]) => [key, marks(one)]));
}

/** `label|word|word`: the label is shown, all of them are typed, also as English has them. */
function marksLabel(words: string): string {
  return `${words.split('|').map(mark).join('|')}|${words}`;
}

/** The same of a keyword, whose single letters everybody types. */
function marksKeyword(words: string): string {
  const own = words.split('|').map((one) => (one.length === 1 ? one : mark(one)));
  return [...new Set([...own, ...words.split('|')])].join('|');
}

/** The same of an alarm's words, which the file holds as they are compared. */
function marksAlarmWord(words: string): string {
  return `${foldWord(mark(words.split('|')[0]!))}|${words}`;
}

type Options = Readonly<Record<string, Readonly<Record<string, string>>>>;

/** A locale's file in the made-up language: what is typed stays, what is shown is marked. */
export function markFile(name: string, english: Readonly<Record<string, Json>>): unknown {
  switch (name) {
    case 'quick':
      return english;
    case 'keywords':
      return Object.fromEntries(Object.entries(english).map(([id, words]) => [id, marksKeyword(String(words))]));
    case 'alarm': {
      const answers = Object.entries(english.answers as Readonly<Record<string, string>>);
      return { ...english, answers: Object.fromEntries(answers.map(([id, words]) => [id, marksAlarmWord(words)])) };
    }
    case 'cautions':
      return Object.fromEntries(Object.entries(english).map(([id, words]) => [id, foldWord(mark(String(words)))]));
    case 'everyday':
      return marks(english as unknown as Json);
    case 'meta':
      return { ...english, name: marks(english.name!), months: marks(english.months!) };
    default: {
      const { options = {}, long, ...texts } = english as { options?: Options; long?: Json } & Record<string, Json>;
      const labels = Object.entries(options).map(([field, ids]) => [
        field,
        Object.fromEntries(Object.entries(ids).map(([id, words]) => [id, marksLabel(words)])),
      ]);
      return { ...(marks(texts) as object), ...(long ? { long } : {}), options: Object.fromEntries(labels) };
    }
  }
}

/**
 * A copy of the package with the made-up language beside English; whoever asks for it removes it. `leftEnglish`: one text, as
 * `file.key`, that nobody translated.
 */
export function madeUpPackage(leftEnglish: string | null = null): string {
  const root = mkdtempSync(join(tmpdir(), 'neckline-language-'));
  for (const folder of ['flows', 'locales']) cpSync(join(packageRoot, folder), join(root, folder), { recursive: true });
  const english = join(root, 'locales', 'en');
  mkdirSync(join(root, 'locales', madeUp));
  for (const file of readdirSync(english)) {
    const texts = JSON.parse(readFileSync(join(english, file), 'utf8')) as Record<string, Json>;
    const name = file.replace('.json', '');
    const marked = markFile(name, texts) as Record<string, unknown>;
    const [home, key] = leftEnglish?.split('.') ?? [];
    if (home === name) delete marked[key!];
    writeFileSync(join(root, 'locales', madeUp, file), JSON.stringify(marked, null, 2));
  }
  return root;
}

/** The shipped content and the made-up language beside English. */
export function withMadeUp(leftEnglish: string | null = null): Content {
  const root = madeUpPackage(leftEnglish);
  try {
    return loadContent(root);
  } finally {
    rmSync(root, { recursive: true, force: true });
  }
}
