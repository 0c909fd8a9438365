import { checkContent, withSaidVars } from '../content/check-content.ts';
import type { CheckRegistry } from '../content/check-registry.ts';
import { costRows } from '../content/cost.ts';
import { fieldRows } from '../content/fields.ts';
import { type Content, loadContent } from '../content/load.ts';
import { problemLine } from '../content/problem.ts';

type Output = { write(text: string): unknown };

const help = `neckline check [--fields] [--json]

Reads flows, texts and the programme and prints what is wrong, one problem a line:
file:line  path  what is wrong  what to do
Without problems it prints ok and what the texts cost, by language and file, each
text once, with values of usual width.

  --fields  all fields and options of all flows instead
  --json    as JSON
  --help    this text

Exit: 0 nothing wrong, 1 problems, 2 wrong use.
`;

/** What is checked: the package with the names its code has, unless said. */
export interface CheckOptions {
  readonly registry?: CheckRegistry;
  readonly root?: string;
}

/** Prints problems and returns 1, or the cost table (fields with `--fields`) and returns 0; 2 for wrong use. */
export function runCheck(
  args: readonly string[],
  out: { readonly stdout: Output; readonly stderr: Output },
  options: CheckOptions = {},
): number {
  if (args.includes('--help') || args.includes('-h')) {
    out.stdout.write(help);
    return 0;
  }
  const odd = args.find((arg) => arg !== '--fields' && arg !== '--json');
  if (odd !== undefined) {
    out.stderr.write(`check takes no ${odd}; see --help\n`);
    return 2;
  }
  const registry = withSaidVars(options.registry ?? {});
  const content = loadContent(options.root);
  const problems = checkContent(content, registry);
  const json = args.includes('--json');
  if (problems.length > 0) {
    // With --fields the answer is fields: whoever reads them must not find problems in their place.
    const to = args.includes('--fields') ? out.stderr : out.stdout;
    if (json && !args.includes('--fields')) to.write(`${JSON.stringify({ ok: false, problems })}\n`);
    else for (const problem of problems) to.write(`${problemLine(problem)}\n`);
    if (!json) to.write(`${problems.length} ${problems.length === 1 ? 'problem' : 'problems'}\n`);
    return 1;
  }
  if (args.includes('--fields')) writeFields(content, json, out.stdout);
  else writeCost(content, registry, json, out.stdout);
  return 0;
}

function writeFields(content: Content, json: boolean, to: Output): void {
  const rows = fieldRows(content.flows);
  if (json) {
    to.write(`${JSON.stringify(rows)}\n`);
    return;
  }
  for (const { flow, state, field, kind, each, options } of rows) {
    const shown = options.map((option) => `${option.reply || 'random'} ${option.id}`).join(', ');
    to.write(`${flow}.${state}  ${field}  ${kind}${each ? ' each' : ''}  ${shown}\n`);
  }
}

function writeCost(content: Content, registry: CheckRegistry, json: boolean, to: Output): void {
  const rows = costRows(content.sources.locales, registry);
  if (json) {
    to.write(`${JSON.stringify({ ok: true, cost: rows })}\n`);
    return;
  }
  to.write(`ok: ${content.flows.newest.size} flows, ${content.sources.locales.length} languages\n\n`);
  const table = [
    ['language', 'texts of', 'texts', 'segments', 'longest', 'written in'],
    ...rows.map((row) => [row.locale, row.file, row.texts, row.segments, row.longest, row.encoding].map(String)),
  ];
  const widths = table[0]!.map((_, column) => Math.max(...table.map((row) => row[column]!.length)));
  for (const row of table) {
    const cells = row.map((cell, column) =>
      column >= 2 && column <= 4 ? cell.padStart(widths[column]!) : cell.padEnd(widths[column]!),
    );
    to.write(`${cells.join('  ').trimEnd()}\n`);
  }
}
