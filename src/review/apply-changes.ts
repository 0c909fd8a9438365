/** Puts a reviewer's changes into the files of a language, in memory. */
import { suggestion } from '../content/closest.ts';
import type { Problem } from '../content/problem.ts';
import { baseLocale } from '../content/texts.ts';
import { type Change, type ChangesFile, problemOfChange } from './changes-file.ts';
import { parsed, type Sources, type Written } from './entry.ts';
import { whatIsLost } from './losses.ts';
import { type Pair, pairsOf } from './pairs.ts';

export interface Applied {
  /** The files that become others, by name. */
  readonly changed: Sources;
  /** What was put in, and what is a remark alone. */
  readonly taken: readonly Change[];
  readonly remarks: readonly Change[];
  readonly problems: readonly Problem[];
}

/** `own`: the files of the language that is changed; none where it is new. What has a problem is not put in. */
export function applyChanges(file: ChangesFile, english: Sources, own: Sources): Applied {
  const isEnglish = file.locale === baseLocale;
  const pairs = new Map(pairsOf(english, isEnglish ? null : own).map((one) => [one.key, one]));
  const problems: Problem[] = [];
  const taken: Change[] = [];
  const remarks: Change[] = [];
  const data = new Map<string, unknown>();
  const seen = new Set<string>();
  for (const [place, change] of file.changes.entries()) {
    const refused = seen.has(change.key)
      ? (['is changed twice', 'keep one of the two'] as const)
      : whyNot(change, pairs, isEnglish);
    seen.add(change.key);
    if (refused !== null) {
      problems.push(problemOfChange(file, place, refused));
      continue;
    }
    if (isSame(change.was, change.becomes)) {
      remarks.push(change);
      continue;
    }
    const { file: name, path } = pairs.get(change.key)!;
    const before = data.get(name) ?? parsed(own.get(name) ?? '{}');
    data.set(name, withValue(before, path, change.becomes!));
    taken.push(change);
  }
  const changed = new Map([...data].map(([name, one]) => [name, `${JSON.stringify(one, null, 2)}\n`]));
  return { changed, taken, remarks, problems };
}

/** Why a change is not put in, and what to do about it; null when it is. */
function whyNot(
  change: Change,
  pairs: ReadonlyMap<string, Pair>,
  isEnglish: boolean,
): readonly [what: string, todo: string] | null {
  const { key, was, becomes, english, note } = change;
  const pair = pairs.get(key);
  if (!pair) return [`there is no text ${key}`, suggestion(key, pairs.keys(), 'draw a new sheet')];
  const today = isEnglish ? pair.english : pair.other;
  if (!isSame(today, was)) {
    return [`was changed since the sheet was made: today ${shown(today)}`, 'draw a new sheet and say it again'];
  }
  if (!isEnglish && !isSame(pair.english, english)) {
    return [`its English was changed since the sheet was made: today ${shown(pair.english)}`, 'draw a new sheet'];
  }
  if (isSame(was, becomes)) {
    return note === '' ? ['changes nothing and says nothing', 'take it out'] : null;
  }
  if (pair.kind === 'kept') return ['is no translation of English words', 'write it in the file itself'];
  if (becomes === null) return ['would be empty', 'write what is said instead'];
  if (pair.kind === 'words' && typeof becomes !== 'string') return ['has words in several lines', 'part them by |'];
  // What another language has to share with English is held against English, by the rules for its files.
  return isEnglish && was !== null ? whatIsLost(pair.kind, was, becomes) : null;
}

/** As it is said in a line of a terminal: no sign of anybody's words acts there. */
export function shown(written: Written | null): string {
  return written === null ? 'nothing' : JSON.stringify(written);
}

function isSame(a: Written | null, b: Written | null): boolean {
  return JSON.stringify(a) === JSON.stringify(b);
}

function withValue(data: unknown, [name = '', ...rest]: readonly string[], value: Written): unknown {
  const before = typeof data === 'object' && data !== null ? (data as Readonly<Record<string, unknown>>) : {};
  return { ...before, [name]: rest.length === 0 ? value : withValue(before[name], rest, value) };
}
