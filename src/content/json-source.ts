import type { Problem } from './problem.ts';
import type { Path } from './yaml-source.ts';

/** A JSON file as plain data, with the way back to its lines. */
export interface JsonSource {
  readonly file: string;
  /** Undefined when the file is no JSON. */
  readonly data: unknown;
  lineOf(path: Path): number;
  /** No JSON, or a key that stands twice in one object. */
  readonly problems: readonly Problem[];
}

/** Reads JSON and remembers the line of each key. Never throws. */
export function readJson(file: string, text: string): JsonSource {
  let data: unknown;
  try {
    data = JSON.parse(text);
  } catch (error) {
    const what = `is no JSON: ${error instanceof Error ? error.message.split('\n')[0] : 'unreadable'}`;
    const line = lineOfFault(text, String(error));
    const problem = { file, line, path: '-', what, todo: 'check commas, quotes and brackets' };
    return { file, data: undefined, lineOf: () => 1, problems: [problem] };
  }
  const { lines, twice } = scanKeys(text);
  const problems = twice.map(({ path, line }) => ({
    file,
    line,
    path,
    what: 'this key stands twice',
    todo: 'keep one of them',
  }));
  const lineOf = (path: Path): number => {
    for (let length = path.length; length > 0; length -= 1) {
      const line = lines.get(path.slice(0, length).join('\n'));
      if (line !== undefined) return line;
    }
    return 1;
  };
  return { file, data, lineOf, problems };
}

interface Scanned {
  readonly lines: ReadonlyMap<string, number>;
  readonly twice: readonly { readonly path: string; readonly line: number }[];
}

/** Walks the tokens of sound JSON; `JSON.parse` itself keeps the last of two equal keys in silence. */
function scanKeys(text: string): Scanned {
  const lines = new Map<string, number>();
  const twice: { path: string; line: number }[] = [];
  const path: (string | number)[] = [];
  let line = 1;
  let pending: { readonly key: string; readonly line: number } | null = null;
  for (const [token] of text.matchAll(/"(?:[^"\\]|\\.)*"|[{}[\]:,\n]/gu)) {
    const top = path.length - 1;
    if (token === '\n') line += 1;
    else if (token.startsWith('"')) pending = { key: JSON.parse(token) as string, line };
    else if (token === ':' && pending) {
      path[top] = pending.key;
      const where = path.join('\n');
      if (lines.has(where)) twice.push({ path: path.join('.'), line: pending.line });
      lines.set(where, pending.line);
      pending = null;
    } else if (token === ',' && typeof path[top] === 'number') path[top] += 1;
    else if (token === '{' || token === '[') path.push(token === '[' ? 0 : '');
    else if (token === '}' || token === ']') path.pop();
  }
  return { lines, twice };
}

function lineOfFault(text: string, message: string): number {
  const position = /position (\d+)/u.exec(message);
  if (position) return text.slice(0, Number(position[1])).split('\n').length;
  return /end of JSON/u.test(message) ? text.trimEnd().split('\n').length : 1;
}
