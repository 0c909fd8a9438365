/** A fault in a flow, a text or the programme, for the person who wrote it. */
export interface Problem {
  /** From the package root, e.g. `flows/aftercare.yaml`. */
  readonly file: string;
  /** Counted from 1. */
  readonly line: number;
  /** Where in the file, dotted, e.g. `states.press.transitions.over`; `-` for the whole file. */
  readonly path: string;
  readonly what: string;
  /** What to do about it. */
  readonly todo: string;
}

/** `file:line  path  what is wrong  what to do`. */
export function problemLine(problem: Problem): string {
  return `${problem.file}:${problem.line}  ${problem.path || '-'}  ${problem.what}  ${problem.todo}`;
}

/** By file, line and path, each once. */
export function sortProblems(problems: readonly Problem[]): readonly Problem[] {
  const byLine = new Map(problems.map((one) => [problemLine(one), one]));
  return [...byLine.values()].sort(
    (a, b) => compare(a.file, b.file) || a.line - b.line || compare(a.path, b.path) || compare(a.what, b.what),
  );
}

function compare(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}
