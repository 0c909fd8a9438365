/** Everything that a language's files say, one entry for each string, in the order of the files. */

/** The JSON texts of a language's files by name: `new` for `locales/<tag>/new.json`. */
export type Sources = ReadonlyMap<string, string>;

/** One text, or the screens or words of a list. */
export type Written = string | readonly string[];

/**
 * `text`: goes out as a message. `print`: stands on a printed card or on the page of the bench. `words`: `label|word|word`.
 * `list`: words, one a line. `kept`: words that are no translation of the English ones, so they are written in the file itself.
 */
export type EntryKind = 'text' | 'print' | 'words' | 'list' | 'kept';

export interface Entry {
  /** File and path, joined by dots: `new.breathing`, `new.options.sex.female`. */
  readonly key: string;
  readonly file: string;
  readonly path: readonly string[];
  readonly kind: EntryKind;
  readonly written: Written;
}

/** Files whose strings are no messages, by what they are. */
const otherKinds: Readonly<Record<string, EntryKind>> = {
  cards: 'print',
  bench: 'print',
  scenarios: 'print',
  keywords: 'words',
  alarm: 'words',
  meta: 'words',
  quick: 'kept',
  everyday: 'kept',
  cautions: 'kept',
};

/** A published list of words, which no reviewer is asked to read. */
const unread = 'everyday.familiar';

/** The entries of all files. A file that is no JSON has none: the loader says what is wrong with it. */
export function entriesOf(sources: Sources): readonly Entry[] {
  return [...sources].flatMap(([file, source]) => leavesOf(file, [], parsed(source)));
}

/** The data of a JSON text; undefined where it is none. */
export function parsed(source: string): unknown {
  try {
    return JSON.parse(source);
  } catch {
    return undefined;
  }
}

function leavesOf(file: string, path: readonly string[], value: unknown): readonly Entry[] {
  const key = [file, ...path].join('.');
  if (typeof value === 'string') return [{ key, file, path, kind: kindOf(file, path, value), written: value }];
  if (Array.isArray(value)) {
    const written = value.map(itemWords);
    return written.length === 0 || key === unread
      ? []
      : [{ key, file, path, kind: kindOf(file, path, written), written }];
  }
  if (typeof value !== 'object' || value === null) return [];
  return Object.entries(value).flatMap(([name, one]) => leavesOf(file, [...path, name], one));
}

/** What a word of the quick text stands for is a field and its value: both in one line. */
function itemWords(item: unknown): string {
  return typeof item === 'object' && item !== null ? Object.values(item).join(' ') : String(item);
}

function kindOf(file: string, path: readonly string[], written: Written): EntryKind {
  const other = otherKinds[file];
  if (other !== undefined) return other === 'words' && typeof written !== 'string' ? 'list' : other;
  return path.length > 1 ? 'words' : 'text';
}
