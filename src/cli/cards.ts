import { writeFileSync } from 'node:fs';
import { htmlOf } from '../cards/book.ts';
import { readSettings } from '../config.ts';
import { cardsOf, placeOf } from '../content/cards.ts';
import { suggestion } from '../content/closest.ts';
import { loadContent, packageRoot } from '../content/load.ts';
import { problemLine } from '../content/problem.ts';
import { registry } from '../conversation/matters.ts';
import { wordRows } from '../conversation/roles.ts';
import { readArguments } from './arguments.ts';

type Output = { write(text: string): unknown };

const help = `neckline cards [--locale L] [--voice plain|brief] [--site S] [--out FILE]

Prints the cards for the clinic's wall: one HTML file of A4 pages, black on white, that opens offline
in any browser and prints from there. Card 1: words of the line. 2 to 4: holding, strokes, smear. 5: names
on slides and jar. 6: first aid. 7: how the patient lies. 8: laboratory. 9: doctor. 10: numbers to write in.

  --locale L   language, a folder of locales; en unless said
  --voice V    plain (whole sentences) or brief; plain unless said
  --site S     a site of the programme (NECKLINE_PROGRAMME): its hospital, night place and numbers are
               printed; without it only what is the same at all sites, the rest is written in by hand
  --out FILE   into this file instead of the output
  --help       this text

Exit: 0, 1 texts or programme cannot be used or the file cannot be written, 2 no such language, voice or site, or wrong use.
`;

/** Prints the cards. Returns 0; 1 with the problems when they cannot be made or written; 2 for wrong use. */
export function runCards(
  args: readonly string[],
  out: { readonly stdout: Output; readonly stderr: Output; readonly settingsFile?: string | null },
  root: string = packageRoot,
): number {
  const read = readArguments(args, {
    locale: { type: 'string' },
    voice: { type: 'string' },
    site: { type: 'string' },
    out: { type: 'string' },
  });
  if (read.help) {
    out.stdout.write(help);
    return 0;
  }
  const refused = (text: string): number => {
    out.stderr.write(`${text}\n`);
    return 2;
  };
  const odd = read.odd ?? read.words[0];
  if (odd !== undefined) return refused(`cards takes no ${odd}; see --help`);
  const { locale = 'en', voice = 'plain', site, out: file } = read.values;
  if (voice !== 'plain' && voice !== 'brief') return refused(`there is no voice ${voice}; plain or brief`);

  const settings = readSettings(undefined, out.settingsFile ?? null);
  if (!settings.ok) {
    for (const line of settings.faults) out.stderr.write(`${line}\n`);
    return 1;
  }
  const content = loadContent(root, settings.settings.NECKLINE_PROGRAMME ?? null);
  if (content.problems.length > 0) {
    for (const problem of content.problems) out.stderr.write(`${problemLine(problem)}\n`);
    return 1;
  }
  const tags = content.sources.locales.map(({ tag }) => tag);
  if (!tags.includes(locale)) {
    return refused(`there is no language ${locale}; ${suggestion(locale, tags, `known: ${tags.join(', ')}`)}`);
  }
  const sites = content.programme.sites.map(({ id }) => id);
  if (site !== undefined && !sites.includes(site)) {
    return refused(`there is no site ${site}; ${suggestion(site, sites, `known: ${sites.join(', ')}`)}`);
  }

  const keywords = wordRows(registry).map(({ word }) => word);
  const place = placeOf(content.programme, site ?? null, settings.settings.NECKLINE_SMS_NUMBER ?? null);
  const { pages, problems } = cardsOf(content, root, { locale, voice, keywords, place });
  if (problems.length > 0) {
    for (const problem of problems) out.stderr.write(`${problemLine(problem)}\n`);
    return 1;
  }
  const html = htmlOf(pages, { locale, title: content.programme.name });
  if (file === undefined) {
    out.stdout.write(html);
    return 0;
  }
  try {
    writeFileSync(file, html);
    return 0;
  } catch (error) {
    out.stderr.write(`cannot write ${file}: ${(error as NodeJS.ErrnoException).code ?? 'unknown fault'}\n`);
    return 1;
  }
}
