import { suggestion } from '../content/closest.ts';
import { loadContent } from '../content/load.ts';
import { mermaidOf } from '../content/mermaid.ts';
import { problemLine } from '../content/problem.ts';
import { readArguments } from './arguments.ts';

type Output = { write(text: string): unknown };

const help = `neckline draw [FLOW]

Prints a flow, or every flow, as a Mermaid state diagram.

  --help  this text

Exit: 0, 1 a flow file cannot be read, 2 no such flow or wrong use.
`;

/** Prints diagrams. Returns 0; 1 when flows cannot be read; 2 for an unknown flow or wrong use. */
export function runDraw(
  args: readonly string[],
  out: { readonly stdout: Output; readonly stderr: Output },
  root?: string,
): number {
  const read = readArguments(args, {});
  if (read.help) {
    out.stdout.write(help);
    return 0;
  }
  if (read.odd !== null || read.words.length > 1) {
    out.stderr.write(`draw takes one flow at most${read.odd === null ? '' : `, no ${read.odd}`}; see --help\n`);
    return 2;
  }
  const content = loadContent(root);
  const unreadable = content.problems.filter((problem) => problem.file.startsWith('flows/'));
  const [name] = read.words;
  const flows = content.flows.newest;
  if (name !== undefined && !flows.has(name)) {
    const own = unreadable.filter((problem) => problem.file === `flows/${name}.yaml`);
    for (const problem of own) out.stderr.write(`${problemLine(problem)}\n`);
    if (own.length > 0) return 1;
    out.stderr.write(`there is no flow ${name}; ${suggestion(name, flows.keys(), 'see neckline draw')}\n`);
    return 2;
  }
  const wanted = name === undefined ? [...flows.values()] : [flows.get(name)!];
  out.stdout.write(wanted.map(mermaidOf).join('\n'));
  if (name !== undefined || unreadable.length === 0) return 0;
  for (const problem of unreadable) out.stderr.write(`${problemLine(problem)}\n`);
  return 1;
}
