/**
 * Which texts of a language are older than the English ones they were made from. `locales/<tag>/from-english.json` keeps, by the
 * key of each entry, a hash of the English that its translator read.
 */
import { createHash } from 'node:crypto';
import { entriesOf, parsed, type Sources } from '../review/entry.ts';

type Hashes = Readonly<Record<string, string>>;

/** Hash of each English entry that is translated; words that are heard, and lists of a language's own, translate nothing. */
function englishHashes(english: Sources): ReadonlyMap<string, string> {
  const translated = entriesOf(english).filter(
    ({ kind, path }) => kind === 'text' || kind === 'print' || path[0] === 'options',
  );
  return new Map(translated.map(({ key, written }) => [key, hashOf(JSON.stringify(written))]));
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

/** Keys of a language's entries whose English changed since, or of which nobody said from which English they were made. */
export function olderThanEnglish(english: Sources, own: Sources, recorded: string | null): readonly string[] {
  const [today, known] = [englishHashes(english), readHashes(recorded)];
  return entriesOf(own)
    .map(({ key }) => key)
    .filter((key) => today.has(key) && known[key] !== today.get(key));
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
  const there = new Set(entriesOf(own).map(({ key }) => key));
  const hashes = [...englishHashes(english)]
    .filter(([key]) => there.has(key))
    .map(([key, hash]) => [key, fresh === 'all' || fresh.has(key) ? hash : (known[key] ?? hash)] as const);
  return `${JSON.stringify(Object.fromEntries(hashes), null, 2)}\n`;
}
