import { answerRows } from '../content/answer-table.ts';
import { cardProblems } from '../content/cards.ts';
import { withSaidVars } from '../content/check-content.ts';
import { checkEverything } from '../content/check-everything.ts';
import type { CheckRegistry } from '../content/check-registry.ts';
import { costRows } from '../content/cost.ts';
import { assessedRows, type FieldRow, fieldRows } from '../content/fields.ts';
import { type Content, loadContent, packageRoot } from '../content/load.ts';
import { problemLine, sortProblems } from '../content/problem.ts';
import type { Locale } from '../content/texts.ts';
import { measureScreens } from '../content/wording/measure.ts';
import { wordProblems, wordRows } from '../content/wording/table.ts';
import { readArguments } from './arguments.ts';
import { type CaseCost, wholeCaseCosts } from './whole-case.ts';

type Output = { write(text: string): unknown };

const help = `neckline check [--fields | --answers | --words] [--json]

Reads flows, texts and the programme and prints what is wrong, one problem a line:
file:line  path  what is wrong  what to do
Without problems it prints ok and what the texts cost, by language and file, each
text once, with values of usual width; and what one whole case costs by SMS in each
language, played in plain words, in brief ones and by quick text, with the widest
names: texts sent, segments received, octets of user data, money at the programme's
price.

  --fields  all fields and options of all flows, and what assess answers, instead
  --answers every reply that a question takes, by what is sent, in each language: where
            it is taken, for what, whether it acts or only adds a finding, and its words
  --words   how the texts read, by language, voice and group: share of function words,
            screens over 150 characters, over one segment and over six options, options
            that begin with a figure, words in capitals a screen, words of the longest
            sentence, sentences without a verb, words outside the everyday list; counted
            with the widest names, then each screen that breaks a rule of wording
  --json    as JSON
  --help    this text

Exit: 0 nothing wrong, 1 problems, 2 wrong use.
`;

/** What is checked: the package with the names its code has, unless said. */
export interface CheckOptions {
  readonly registry?: CheckRegistry;
  readonly root?: string;
  /** Words that the line always takes, which the cards explain. */
  readonly words?: readonly string[];
}

/** Prints problems and returns 1, or the cost table (fields with `--fields`, replies with `--answers`) and returns 0; 2 for wrong use. */
export async function runCheck(
  args: readonly string[],
  out: { readonly stdout: Output; readonly stderr: Output },
  options: CheckOptions = {},
): Promise<number> {
  const read = readArguments(args, {
    fields: { type: 'boolean' },
    answers: { type: 'boolean' },
    words: { type: 'boolean' },
    json: { type: 'boolean' },
  });
  if (read.help) {
    out.stdout.write(help);
    return 0;
  }
  const odd = read.odd ?? read.words[0];
  if (odd !== undefined) {
    out.stderr.write(`check takes no ${odd}; see --help\n`);
    return 2;
  }
  const { fields = false, answers = false, words = false, json = false } = read.values;
  if ([fields, answers, words].filter(Boolean).length > 1) {
    out.stderr.write('check takes one of --fields, --answers and --words; see --help\n');
    return 2;
  }
  const isList = fields || answers || words;
  const registry = withSaidVars(options.registry ?? {});
  const content = loadContent(options.root);
  const problems = sortProblems([
    ...checkEverything(content, registry),
    ...cardProblems(content, options.root ?? packageRoot, options.words ?? []),
  ]);
  if (problems.length > 0) {
    // A list that was asked for is read by others: they must not find problems in its place.
    const to = isList ? out.stderr : out.stdout;
    if (json && !isList) to.write(`${JSON.stringify({ ok: false, problems })}\n`);
    else for (const problem of problems) to.write(`${problemLine(problem)}\n`);
    if (!json) to.write(`${problems.length} ${problems.length === 1 ? 'problem' : 'problems'}\n`);
    return 1;
  }
  // A package of one's own has flows of its own, no assessment.
  const assessed = options.root === undefined ? assessedRows() : [];
  if (fields) writeFields([...fieldRows(content.flows), ...assessed], json, out.stdout);
  else if (answers) writeAnswers(content, json, out.stdout);
  else if (words) writeWords(content, registry, json, out.stdout);
  // A package of one's own has no whole case to play.
  else writeCost(content, registry, options.root === undefined ? await wholeCaseCosts(content) : [], json, out.stdout);
  return 0;
}

function writeFields(rows: readonly FieldRow[], json: boolean, to: Output): void {
  if (json) {
    to.write(`${JSON.stringify(rows)}\n`);
    return;
  }
  for (const { flow, state, field, kind, each, options } of rows) {
    const shown = options
      .map((option) => `${option.reply || (flow === 'assess' ? '-' : 'random')} ${option.id}`)
      .join(', ');
    to.write(`${flow}.${state}  ${field}  ${kind}${each ? ' each' : ''}  ${shown}\n`);
  }
}

function writeAnswers({ flows, texts, sources }: Content, json: boolean, to: Output): void {
  const rows = answerRows(flows, texts, sources.locales);
  if (json) {
    to.write(`${JSON.stringify(rows)}\n`);
    return;
  }
  const heads = ['language', 'reply', 'question', 'means', 'weight', 'words'];
  writeTable(
    heads,
    rows.map((row) => [row.locale, row.reply || '-', row.question, row.option, row.weight, row.words.join(', ')]),
    to,
  );
}

function writeWords({ sources }: Content, registry: CheckRegistry, json: boolean, to: Output): void {
  const measured = sources.locales.map((locale) => ({
    locale,
    screens: measureScreens(locale, sources.flows, registry),
  }));
  const rows = measured.flatMap(({ locale, screens }) => wordRows(locale.tag, screens));
  const problems = sortProblems(measured.flatMap(({ screens }) => wordProblems(screens)));
  if (json) {
    to.write(`${JSON.stringify({ rows, problems })}\n`);
    return;
  }
  const heads = ['language', 'voice', 'texts', 'screens', 'function %', 'over 150', 'over 1 segment', 'over 6 options'];
  writeTable(
    [...heads, 'quantities', 'capitals', 'longest sentence', 'no verb', 'uncommon'],
    rows.map((row) => [
      ...[row.locale, row.voice, row.group, row.screens, row.functionWords, row.over150, row.overOne, row.overSix],
      ...[row.quantities, row.capitals, row.longest, row.verbless, row.uncommon],
    ]),
    to,
  );
  for (const { locale } of measured) to.write(`${locale.tag}: ${readBy(locale)}\n`);
  for (const problem of problems) to.write(`${problemLine(problem)}\n`);
}

function writeCost(
  content: Content,
  registry: CheckRegistry,
  cases: readonly CaseCost[],
  json: boolean,
  to: Output,
): void {
  const rows = costRows(content.sources.locales, registry);
  if (json) {
    to.write(`${JSON.stringify({ ok: true, cost: rows, wholeCase: cases })}\n`);
    return;
  }
  to.write(`ok: ${content.flows.newest.size} flows, ${content.sources.locales.length} languages\n\n`);
  writeTable(
    ['language', 'texts of', 'texts', 'segments', 'longest', 'octets', 'written in'],
    rows.map((row) => [row.locale, row.file, row.texts, row.segments, row.longest, row.octets, row.encoding]),
    to,
  );
  if (cases.length === 0) return;
  to.write('\n');
  writeTable(
    [
      'language',
      'whole case',
      'who',
      'sends',
      'octets',
      'receives',
      'octets',
      content.programme.price?.currency ?? 'money',
      'written in',
    ],
    cases.map(({ locale, way, who, sends, receives, money, encoding }) => [
      ...[locale, way, who, sends.texts, sends.octets, receives.segments, receives.octets],
      ...[money === null ? '-' : money.toFixed(2), encoding],
    ]),
    to,
  );
  if (!content.programme.price) return;
  const { currency } = content.programme.price;
  for (const { locale, way } of cases.filter(({ who }) => who === 'worker')) {
    const ofCase = cases.filter((one) => one.locale === locale && one.way === way);
    const all = ofCase.reduce((sum, { money }) => sum + (money ?? 0), 0);
    to.write(`${locale}: one case, ${way}, all three people: ${all.toFixed(2)} ${currency}\n`);
  }
}

/** Who has read a language as its readers would: a machine's reading is no tired nurse. */
function readBy({ meta }: Locale): string {
  return meta?.reviewedBy ? `read by a nurse: ${meta.reviewedBy}, ${meta.reviewedOn}` : 'read by a nurse: none yet';
}

/** Columns under their heads, numbers to the right. */
function writeTable(heads: readonly string[], rows: readonly (readonly (string | number)[])[], to: Output): void {
  const isNumber = heads.map((_, column) => typeof rows[0]?.[column] === 'number');
  const table = [heads, ...rows.map((row) => row.map(String))];
  const widths = heads.map((_, column) => Math.max(...table.map((row) => row[column]!.length)));
  for (const row of table) {
    const cells = row.map((cell, column) =>
      isNumber[column] ? cell.padStart(widths[column]!) : cell.padEnd(widths[column]!),
    );
    to.write(`${cells.join('  ').trimEnd()}\n`);
  }
}
