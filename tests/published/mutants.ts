/** One change of a source that a test of it has to notice. */
export interface Mutant {
  /** Line of the source, from 1, and what was there and stands there now: enough to find and to redo it. */
  readonly line: number;
  readonly was: string;
  readonly becomes: string;
  readonly source: string;
}

/** What is changed: each word or number alone, never in a comment or an import. */
const swaps: readonly { readonly find: RegExp; readonly by: (found: string) => readonly string[] }[] = [
  // Cut-offs and points: one more and one less.
  { find: /(?<![\w'.])\d+(?:\.\d+)?(?![\w'])/g, by: (found) => [String(Number(found) + 1), String(Number(found) - 1)] },
  // No cut-off where there is none: as though there were one.
  { find: /(?<=Mm: )null(?=[, }])/g, by: () => ['10'] },
  { find: /(?<![=<>!])[<>]=(?!=)/g, by: (found) => [found[0] ?? '', found === '>=' ? '<' : '>'] },
  { find: /(?<= )[<>](?= )/g, by: (found) => [`${found}=`, found === '>' ? '<=' : '>='] },
  { find: /===/g, by: () => ['!=='] },
  { find: /!==/g, by: () => ['==='] },
  { find: /\|\|/g, by: () => ['&&'] },
  { find: /&&/g, by: () => ['||'] },
  { find: /(?:\w+\.)?foci\.includes\('[a-z-]+'\)/g, by: (found) => [`!${found}`, 'false', 'true'] },
  { find: /isIrregular\([\w.]+\)(?!:)/g, by: (found) => [`!${found}`, 'false', 'true'] },
  // A word of a table: another word, which nothing else says.
  { find: /'[\w-]+'/g, by: (found) => [`'not-${found.slice(1)}`] },
];

/** The outcome said in the place of another, one step further from or nearer to the needle. */
const outcomeWords = ["'no-sampling'", "'follow-up'", "'undetermined'", "'optional'", "'sample'"] as const;

/** Every change of the list above, each alone. Comments, imports and type declarations stay as they are. */
export function mutantsOf(source: string): readonly Mutant[] {
  const open = blank(source);
  const found: Mutant[] = [];
  const put = (start: number, was: string, becomes: string): void => {
    const line = source.slice(0, start).split('\n').length;
    found.push({ line, was, becomes, source: source.slice(0, start) + becomes + source.slice(start + was.length) });
  };
  for (const { find, by } of swaps) {
    for (const match of open.matchAll(find)) for (const becomes of by(match[0])) put(match.index, match[0], becomes);
  }
  for (const match of open.matchAll(/'[a-z-]+'/g)) {
    const place = outcomeWords.indexOf(match[0] as (typeof outcomeWords)[number]);
    if (place < 0) continue;
    for (const becomes of [outcomeWords[place - 1], outcomeWords[place + 1]]) {
      if (becomes !== undefined) put(match.index, match[0], becomes);
    }
  }
  return found;
}

/** The source with spaces for what is not to be changed, so that every place keeps its number. */
function blank(source: string): string {
  const spaces = (text: string): string => text.replace(/[^\n]/g, ' ');
  return source
    .replace(/\/\*[\s\S]*?\*\/|\/\/[^\n]*/g, spaces)
    .replace(/^import [^\n]*|^(?:export )?type [^;]*;/gm, spaces)
    .replace(/^(?:export )?interface [\s\S]*?^\}/gm, spaces);
}
