/**
 * Which texts of a language nobody held against their English since one of the two changed. `locales/<tag>/from-english.json`
 * keeps, by the key of each entry, a hash of both as they were when somebody did.
 */
import { createHash } from 'node:crypto';
import { entriesOf, parsed, type Sources } from '../review/entry.ts';

type Hashes = Readonly<Record<string, string>>;

/** By key a hash of the English and of what was made of it; words that are heard, and lists of a language's own, translate nothing. */
function madeHashes(english: Sources, own: Sources): ReadonlyMap<string, string> {
  const there = new Map(entriesOf(own).map(({ key, written }) => [key, written]));
  const translated = entriesOf(english).filter(
    ({ key, kind, path }) => there.has(key) && (kind === 'text' || kind === 'print' || path[0] === 'options'),
  );
  return new Map(translated.map(({ key, written }) => [key, hashOf(JSON.stringify([written, there.get(key)]))]));
}

/** Four octets tell one wording from the next. */
function hashOf(text: string): string {
  return createHash('sha256').update(text).digest('hex').slice(0, 8);
}

/** What the file says; nothing where it is none. */
function readHashes(source: string | null): Hashes {
  const read = source === null ? null : parsed(source);
  return typeof read === 'object' && read !== null ? (read as Hashes) : {};
}

/** Keys of a language's entries that changed, or their English, since they were written down as made from it. */
export function olderThanEnglish(english: Sources, own: Sources, recorded: string | null): readonly string[] {
  const known = readHashes(recorded);
  return [...madeHashes(english, own)].filter(([key, hash]) => known[key] !== hash).map(([key]) => key);
}

/**
 * The file anew: `fresh` (keys, or all) were made from today's English, and so was what it does not know yet; the rest keeps what
 * it says. Entries that are gone leave it.
 */
export function recordedEnglish(
  english: Sources,
  own: Sources,
  recorded: string | null,
  fresh: 'all' | ReadonlySet<string> = new Set(),
): string {
  const known = readHashes(recorded);
  const isFresh = (key: string): boolean => fresh === 'all' || fresh.has(key);
  const hashes = [...madeHashes(english, own)].map(([key, hash]) => [key, isFresh(key) ? hash : (known[key] ?? hash)]);
  return `${JSON.stringify(Object.fromEntries(hashes), null, 2)}\n`;
}
