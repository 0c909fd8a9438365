import { isAlias, isMap, isNode, isPair, isScalar, isSeq, LineCounter, parseDocument, visit } from 'yaml';
import type { Problem } from './problem.ts';

/** Keys and indices from the top of a file. */
export type Path = readonly (string | number)[];

/** A YAML file as plain data, with the way back to its lines. */
export interface YamlSource {
  readonly file: string;
  /** Undefined when the file cannot be read as plain YAML; the problems say why. */
  readonly data: unknown;
  /** Line of the key at this path, or of the nearest one above it that exists; counted from 1. */
  lineOf(path: Path): number;
  readonly problems: readonly Problem[];
}

/**
 * Reads YAML 1.2 core only: `no` and `on` stay words, keys are unique, and there are no anchors, aliases or tags, so what
 * stands in the file is what is meant.
 */
export function readYaml(file: string, text: string): YamlSource {
  const counter = new LineCounter();
  const document = parseDocument(text, { version: '1.2', schema: 'core', uniqueKeys: true, lineCounter: counter });
  const lineAt = (offset: number) => Math.max(1, counter.linePos(offset).line);
  const problems: Problem[] = [...document.errors, ...document.warnings].map((error) => ({
    file,
    line: lineAt(error.pos[0]),
    path: '-',
    what: error.code === 'DUPLICATE_KEY' ? 'this key stands twice' : plain(error.message),
    todo: error.code === 'DUPLICATE_KEY' ? 'keep one of them' : 'correct the YAML',
  }));
  visit(document, {
    Node: (_key, node) => {
      const line = lineAt(node.range?.[0] ?? 0);
      if (isAlias(node) || node.anchor !== undefined) {
        problems.push({ file, line, path: '-', what: 'anchors and aliases are not used', todo: 'write it out' });
      } else if (node.tag !== undefined) {
        problems.push({ file, line, path: '-', what: 'tags are not used', todo: 'remove it' });
      }
    },
  });

  const lineOf = (path: Path): number => {
    let node: unknown = document.contents;
    let line = 1;
    for (const step of path) {
      if (isMap(node)) {
        const pair = node.items.find((item) => isScalar(item.key) && String(item.key.value) === String(step));
        if (!pair || !isPair(pair)) break;
        if (isNode(pair.key) && pair.key.range) line = lineAt(pair.key.range[0]);
        node = pair.value;
      } else if (isSeq(node)) {
        node = node.items[Number(step)];
        if (isNode(node) && node.range) line = lineAt(node.range[0]);
      } else break;
    }
    return line;
  };
  return { file, data: problems.length > 0 ? undefined : document.toJS(), lineOf, problems };
}

function plain(message: string): string {
  return message.split('\n')[0]!.replace(/ at line \d+, column \d+:?$/u, '');
}
