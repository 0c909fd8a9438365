import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';

/** The file of a language, without its ending, that keeps from which English its texts were made; it holds no words. */
export const fromEnglish = 'from-english';

/** What that file says; null where the language has none. */
export function fromEnglishSource(root: string, tag: string): string | null {
  const file = join(root, 'locales', tag, `${fromEnglish}.json`);
  return existsSync(file) ? readFileSync(file, 'utf8') : null;
}

/** The JSON texts of a language's files of words by name, as they stand under `root`; none where the language is not there. */
export function localeSources(root: string, tag: string): ReadonlyMap<string, string> {
  const folder = join(root, 'locales', tag);
  if (!existsSync(folder)) return new Map();
  const names = readdirSync(folder)
    .filter((name) => name.endsWith('.json') && name !== `${fromEnglish}.json`)
    .sort();
  return new Map(names.map((name) => [name.slice(0, -'.json'.length), readFileSync(join(folder, name), 'utf8')]));
}
