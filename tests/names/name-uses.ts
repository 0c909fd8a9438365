/** Places in source code that know a flow or a state by its name. */

/** Where, how and which name; `line` counts from 1. */
export interface NameUse {
  readonly line: number;
  readonly how: 'compared' | 'looked up' | 'listed';
  readonly text: string;
}

/** Words of the code, and not of a flow, behind `.flow` and `.state`: whom one looks up by a name that one was given. */
const asked = /(?:newest|byHash|states|flows)$/u;

/**
 * Comparisons of something called flow or state with one of these names, look-ups of it in a collection of names, and lists
 * and records that hold nothing but such names. Comments do not count.
 */
export function nameUses(source: string, names: ReadonlySet<string>): readonly NameUse[] {
  const code = source.replace(/\/\*[\s\S]*?\*\/|\/\/.*$/gmu, (comment) => comment.replace(/[^\n]/gu, ' '));
  const place = String.raw`\b(?:flow|state|flowName|stateName)\b(?:\s*\?\?\s*'[^']*')?\)?`;
  const uses: NameUse[] = [];
  const find = (how: NameUse['how'], pattern: RegExp, isUse: (found: RegExpExecArray) => boolean): void => {
    for (const found of code.matchAll(pattern)) {
      if (isUse(found)) uses.push({ line: code.slice(0, found.index).split('\n').length, how, text: found[0].trim() });
    }
  };
  const isName = (found: RegExpExecArray): boolean => names.has(found[1]!);
  find('compared', new RegExp(`${place}\\s*[!=]==\\s*'([^']+)'`, 'gu'), isName);
  find('compared', new RegExp(`'([^']+)'\\s*[!=]==\\s*[\\w.?!]*${place}`, 'gu'), isName);
  find('compared', /switch \([^{]*\b(?:flow|state)\b[^{]*\{\s*case '([^']+)'/gu, isName);
  const argument = String.raw`(?:(?:[^();]|\([^()]*\))*?\.)?${place}(?![\w.?])`;
  find('looked up', new RegExp(`([\\w.]+)\\??\\.(has|get|includes)\\(${argument}`, 'gu'), (found) => {
    return found[2] === 'includes' || !asked.test(found[1]!);
  });
  find('looked up', new RegExp(`(\\w+)\\[[^\\]'\\n]*\\.${place}[^\\]]*\\]`, 'gu'), () => true);
  find('listed', /\[\s*((?:'[^']+',?\s*){2,})\]/gu, (found) => areNames(found[1]!.matchAll(/'([^']+)'/gu), names));
  find('listed', /\{\s*((?:[\w'-]+:\s*(?:'[^']+'|null),?\s*){2,})\}/gu, (found) =>
    areNames(found[1]!.matchAll(/: '([^']+)'/gu), names),
  );
  return uses;
}

function areNames(found: Iterable<RegExpExecArray>, names: ReadonlySet<string>): boolean {
  const all = [...found];
  return all.length > 1 && all.every((one) => names.has(one[1]!));
}
