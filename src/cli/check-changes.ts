/** `neckline check --changes FILE`: what a reviewer would change, held against the rules for the files themselves. */
import { cpSync, existsSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { loadContent } from '../content/load.ts';
import { fromEnglish, fromEnglishSource, localeSources } from '../content/locale-sources.ts';
import { type Problem, sortProblems } from '../content/problem.ts';
import { baseLocale } from '../content/texts.ts';
import { type Applied, applyChanges } from '../review/apply-changes.ts';
import { type ChangesFile, readChanges } from '../review/changes-file.ts';
import { recordedEnglish } from './older-english.ts';
import { type PackageRules, packageProblems } from './package-problems.ts';
import { sourceOf } from './review-sheet.ts';

export interface CheckedChanges {
  /** What was read; null when it is no file of changes. */
  readonly file: ChangesFile | null;
  readonly applied: Applied | null;
  /** Of the file, then what the package would be found to have that it has not today. */
  readonly problems: readonly Problem[];
  /** Nothing that the sheet showed was changed since. */
  readonly isToday: boolean;
}

export interface ChangesWanted {
  /** Path of the file of changes. */
  readonly path: string;
  readonly root: string;
  /** Programme outside the package; null = the package's. */
  readonly programme: string | null;
  readonly rules: PackageRules;
}

/** Reads and judges a file of changes. Nothing of the package is changed: a copy of it in the system's temporary folder is. */
export function checkChanges({ path, root, programme, rules }: ChangesWanted): CheckedChanges {
  const read = readFile(path);
  if (read.value === null) return { file: null, applied: null, problems: read.problems, isToday: false };
  const file = read.value;
  const [english, own] = [localeSources(root, baseLocale), localeSources(root, file.locale)];
  const applied = applyChanges(file, english, own);
  const found = applied.changed.size === 0 ? [] : newProblems({ root, programme, rules }, file.locale, applied.changed);
  const tag = file.locale === baseLocale ? null : file.locale;
  const isToday = sourceOf(loadContent(root, programme), root, tag) === file.source;
  return { file, applied, problems: [...read.problems, ...applied.problems, ...found], isToday };
}

/** Puts the changed files into the package. Who calls this has seen that they have no problem. */
export function writeChanges(root: string, { file, applied }: CheckedChanges): readonly string[] {
  if (file === null || applied === null) return [];
  const written = writeInto(root, file.locale, applied.changed);
  if (file.locale === baseLocale) return written;
  const [english, own] = [localeSources(root, baseLocale), localeSources(root, file.locale)];
  const read = new Set(applied.taken.map(({ key }) => key));
  const made = recordedEnglish(english, own, fromEnglishSource(root, file.locale), read);
  return [...written, ...writeInto(root, file.locale, new Map([[fromEnglish, made]]))];
}

function readFile(path: string): ReturnType<typeof readChanges> {
  try {
    return readChanges(path, readFileSync(path, 'utf8'));
  } catch {
    const [what, todo] = ['cannot be read', 'name the file that the review sheet saved'];
    return { value: null, problems: [{ file: path, line: 1, path: '-', what, todo }] };
  }
}

/**
 * Problems that the package has with the changes and had not before. A file that the language lacks is empty before, so that what is
 * still to be translated in it is not held against what is.
 */
function newProblems(
  { root, programme, rules }: Omit<ChangesWanted, 'path'>,
  tag: string,
  changed: ReadonlyMap<string, string>,
): readonly Problem[] {
  const copy = mkdtempSync(join(tmpdir(), 'neckline-changes-'));
  try {
    for (const folder of ['flows', 'locales']) cpSync(join(root, folder), join(copy, folder), { recursive: true });
    const lacking = [...changed.keys()].filter((name) => !existsSync(join(copy, 'locales', tag, `${name}.json`)));
    writeInto(copy, tag, new Map(lacking.map((name) => [name, '{}\n'])));
    const problems = () => packageProblems(loadContent(copy, programme), copy, rules);
    const before = new Set(problems().map(withoutLine));
    writeInto(copy, tag, changed);
    return sortProblems(problems().filter((one) => !before.has(withoutLine(one))));
  } finally {
    rmSync(copy, { recursive: true, force: true });
  }
}

function withoutLine({ file, path, what }: Problem): string {
  return `${file}\n${path}\n${what}`;
}

function writeInto(root: string, tag: string, sources: ReadonlyMap<string, string>): readonly string[] {
  mkdirSync(join(root, 'locales', tag), { recursive: true });
  return [...sources].map(([name, text]) => {
    writeFileSync(join(root, 'locales', tag, `${name}.json`), text);
    return `locales/${tag}/${name}.json`;
  });
}
