import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';

/** The JSON texts of a language's files by name, as they stand under `root`; none where the language is not there. */
export function localeSources(root: string, tag: string): ReadonlyMap<string, string> {
  const folder = join(root, 'locales', tag);
  if (!existsSync(folder)) return new Map();
  const names = readdirSync(folder)
    .filter((name) => name.endsWith('.json'))
    .sort();
  return new Map(names.map((name) => [name.slice(0, -'.json'.length), readFileSync(join(folder, name), 'utf8')]));
}
