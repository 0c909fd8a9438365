import { readFileSync } from 'node:fs';

const root = new URL('../../', import.meta.url);

/** What a row of the threats or hazards names as its proof: a test of a file by its title, or a whole play. */
export interface Proof {
  /** From the root of the repository. */
  readonly path: string;
  /** As it stands in the source, `%s` and all; null for a play, which is one test. */
  readonly title: string | null;
}

/** The proofs of a cell, `path › title<br>play`. */
export function proofsOf(cell: string): readonly Proof[] {
  return cell.split('<br>').map((one) => {
    const [path, title] = one.split(' › ');
    return { path: path!.trim(), title: title ?? null };
  });
}

/** What is wrong with a proof; null when it names a play that expects something, or a title that stands in its file. */
export function faultOf({ path, title }: Proof): string | null {
  const source = read(path);
  if (source === null) return `${path} is not there`;
  if (path.endsWith('.play')) {
    if (title !== null) return `${path} is one test and has no titles`;
    return /^\w+<!? ?\S/m.test(source) ? null : `${path} expects nothing`;
  }
  if (title === null) return `${path} without the title of a test`;
  if (!/\p{L}{2}/u.test(title.replace(/%\w|\$\{?\w+\}?/g, ''))) return `${path}: "${title}" names no test`;
  return titlesOf(source).has(title) ? null : `${path} has no test "${title}"`;
}

function read(path: string): string | null {
  try {
    return readFileSync(new URL(path, root), 'utf8');
  } catch {
    return null;
  }
}

/** Titles of `describe`, `it` and `it.each`, as they are written. */
function titlesOf(source: string): ReadonlySet<string> {
  const calls = /(?:\b(?:it|describe)(?:\.\w+)?(?:<[^(]*>)?\(|\)\()\s*(['"`])((?:(?!\1)[^\\\n]|\\.)*)\1\s*,/g;
  return new Set([...source.matchAll(calls)].map((found) => found[2]!.replace(/\\(['"`])/g, '$1')));
}
