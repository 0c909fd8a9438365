import { writeFileSync } from 'node:fs';
import { readSettings } from '../config.ts';
import type { CheckRegistry } from '../content/check-registry.ts';
import { suggestion } from '../content/closest.ts';
import { loadContent, packageRoot } from '../content/load.ts';
import { mermaidOf } from '../content/mermaid.ts';
import { problemLine } from '../content/problem.ts';
import { baseLocale, localeForm } from '../content/texts.ts';
import { readArguments } from './arguments.ts';
import { reviewSheet } from './review-sheet.ts';

type Output = { write(text: string): unknown };

const help = `neckline draw [FLOW]
neckline draw --html FILE [--locale L] [--programme FILE]

Prints a flow, or every flow, as a Mermaid state diagram.

  --html FILE
            the review sheet instead, into FILE: one page that opens offline and prints on A4. Each flow as a
            drawing, every text as its screens read on a phone, in English and in one other language, every
            clinical number with its source, all that is signed, and room to sign. Changes are written in the
            page (or with a pen) and saved as a file that neckline check --changes reads
  --locale L
            the language beside English: a folder of locales, or one that is yet to be written (an empty
            column); without it English alone is shown and changed, beside it room to write
  --programme FILE
            a programme of one's own; without it the one of NECKLINE_PROGRAMME, else that of the package
  --help    this text

Exit: 0, 1 flows, texts or programme cannot be used or the file cannot be written, 2 no such flow or wrong use.
`;

interface Out {
  readonly stdout: Output;
  readonly stderr: Output;
  readonly settingsFile?: string | null;
}

/** The package that is drawn, and the usual values of its texts. */
export interface DrawOptions {
  readonly root?: string | undefined;
  readonly registry?: CheckRegistry;
}

/** Prints diagrams, or writes the review sheet. Returns 0; 1 when something cannot be read or written; 2 for an unknown flow or wrong use. */
export function runDraw(args: readonly string[], out: Out, { root, registry = {} }: DrawOptions = {}): number {
  const read = readArguments(args, {
    html: { type: 'string' },
    locale: { type: 'string' },
    programme: { type: 'string' },
  });
  if (read.help) {
    out.stdout.write(help);
    return 0;
  }
  const { html, locale, programme } = read.values;
  if (read.odd !== null || read.words.length > (html === undefined ? 1 : 0)) {
    const takes = html === undefined ? 'one flow at most' : 'no flow with --html';
    out.stderr.write(`draw takes ${takes}${read.odd === null ? '' : `, no ${read.odd}`}; see --help\n`);
    return 2;
  }
  if (html !== undefined) return writeSheet({ html, locale, programme }, out, { root: root ?? packageRoot, registry });
  if (locale !== undefined || programme !== undefined) {
    out.stderr.write('draw takes --locale and --programme with --html alone; see --help\n');
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

interface SheetWanted {
  readonly html: string;
  readonly locale: string | undefined;
  readonly programme: string | undefined;
}

/** Writes the review sheet of a package without problems. */
function writeSheet(
  { html, locale = baseLocale, programme }: SheetWanted,
  out: Out,
  { root, registry }: { readonly root: string; readonly registry: CheckRegistry },
): number {
  if (!localeForm.test(locale)) {
    out.stderr.write(`${locale} is no language: expected one as en or fr-CM\n`);
    return 2;
  }
  const settings = readSettings(undefined, out.settingsFile ?? null);
  if (!settings.ok) {
    for (const line of settings.faults) out.stderr.write(`${line}\n`);
    return 1;
  }
  const content = loadContent(root, programme ?? settings.settings.NECKLINE_PROGRAMME ?? null);
  if (content.problems.length > 0) {
    for (const problem of content.problems) out.stderr.write(`${problemLine(problem)}\n`);
    return 1;
  }
  const beside = locale === baseLocale ? null : locale;
  try {
    writeFileSync(html, reviewSheet(content, root, registry, beside));
  } catch (error) {
    out.stderr.write(`cannot write ${html}: ${(error as NodeJS.ErrnoException).code ?? 'unknown fault'}\n`);
    return 1;
  }
  if (beside !== null && !content.sources.locales.some(({ tag }) => tag === beside)) {
    out.stdout.write(`there is no locales/${beside} yet: its column is empty\n`);
  }
  return 0;
}
