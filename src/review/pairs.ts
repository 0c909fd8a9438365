import { type Entry, type EntryKind, entriesOf, type Sources, type Written } from './entry.ts';

/** One entry in two languages. */
export interface Pair extends Omit<Entry, 'written'> {
  readonly kind: EntryKind;
  /** Null: only the other language has it. */
  readonly english: Written | null;
  /** Null: there is no other language, or it lacks this one. */
  readonly other: Written | null;
}

/** All entries of English in the order of its files, those that only the other language has behind their file. */
export function pairsOf(english: Sources, other: Sources | null): readonly Pair[] {
  const own = new Map(entriesOf(other ?? new Map()).map((one) => [one.key, one]));
  const base = entriesOf(english);
  const known = new Set(base.map(({ key }) => key));
  const files = [...new Set([...english.keys(), ...(other?.keys() ?? [])])];
  return files.flatMap((file) => [
    ...base
      .filter((one) => one.file === file)
      .map((one) => pairOf(one, one.written, own.get(one.key)?.written ?? null)),
    ...[...own.values()]
      .filter((one) => one.file === file && !known.has(one.key))
      .map((one) => pairOf(one, null, one.written)),
  ]);
}

function pairOf({ key, file, path, kind }: Entry, english: Written | null, other: Written | null): Pair {
  return { key, file, path, kind, english, other };
}
