import { readSettings } from '../config.ts';
import { answerRows } from '../content/answer-table.ts';
import { withSaidVars } from '../content/check-content.ts';
import type { CheckRegistry } from '../content/check-registry.ts';
import { costRows } from '../content/cost.ts';
import { assessedRows, type FieldRow, fieldRows } from '../content/fields.ts';
import { type Content, loadContent, packageRoot } from '../content/load.ts';
import { problemLine, sortProblems } from '../content/problem.ts';
import { measureScreens } from '../content/wording/measure.ts';
import { wordProblems, wordRows } from '../content/wording/table.ts';
import { readArguments } from './arguments.ts';
import { checkChanges } from './check-changes.ts';
import { checkRoster, settingsProblem } from './check-roster.ts';
import { howRead, howReadLine } from './how-read.ts';
import { packageProblems } from './package-problems.ts';
import { sayChanges } from './say-changes.ts';
import { type CaseCost, wholeCaseCosts } from './whole-case.ts';

type Output = { write(text: string): unknown };

const help = `neckline check [--programme FILE] [--roster FILE] [--fields | --answers | --words] [--json]
neckline check --changes FILE [--write] [--programme FILE] [--json]

Reads flows, texts and the programme and prints what is wrong, one problem a line, all
at once:
file:line  path  what is wrong  what to do
Without problems it prints ok and what the texts cost, by language and file, each
text once, with values of usual width; and what one whole case costs by SMS in each
language, played in plain words, in brief ones and by quick text, with the widest
names: texts sent, segments received, octets of user data, money at the programme's
price.

  --programme FILE
            a programme of one's own with the flows and texts of the package; without it
            the one of NECKLINE_PROGRAMME, else that of the package
  --roster FILE
            also the list of people, by this programme and NECKLINE_SMS_PREFIXES, as
            roster import would read it for a line that knows nobody; who is on it
  --fields  all fields and options of all flows, and what assess answers, instead
  --answers every reply that a question takes, by what is sent, in each language: where
            it is taken, for what, whether it acts or only adds a finding, and its words
  --words   how the texts read, by language, voice and group: share of function words,
            screens over 150 characters, over one segment and over six options, options
            that begin with a figure, words in capitals a screen, words of the longest
            sentence, sentences without a verb, words outside the everyday list; counted
            with the widest names, then each screen that breaks a rule of wording
  --changes FILE
            what a reviewer changed in a review sheet (neckline draw --html) and saved: each
            text as it was and as it becomes, by whom, and what would then be wrong by the
            same rules. Refused by file and key: an unknown text, one that was changed since
            the sheet was made, lost or unknown values, other numbers, more than a segment
  --write   puts the changes into locales/ where nothing is wrong with them; without it
            nothing is changed
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
  out: { readonly stdout: Output; readonly stderr: Output; readonly settingsFile?: string | null },
  options: CheckOptions = {},
): Promise<number> {
  const read = readArguments(args, {
    programme: { type: 'string' },
    roster: { type: 'string' },
    fields: { type: 'boolean' },
    answers: { type: 'boolean' },
    words: { type: 'boolean' },
    changes: { type: 'string' },
    write: { type: 'boolean' },
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
  const { fields = false, answers = false, words = false, write = false, json = false } = read.values;
  if ([fields, answers, words].filter(Boolean).length > 1) {
    out.stderr.write('check takes one of --fields, --answers and --words; see --help\n');
    return 2;
  }
  const isOfChanges = read.values.changes !== undefined;
  if (isOfChanges ? fields || answers || words || read.values.roster !== undefined : write) {
    out.stderr.write(
      'check takes --changes with --programme, --write and --json alone, and --write with it; see --help\n',
    );
    return 2;
  }
  const isList = fields || answers || words;
  const registry = withSaidVars(options.registry ?? {});
  const settings = readSettings(undefined, out.settingsFile ?? null);
  const { NECKLINE_PROGRAMME: named, NECKLINE_SMS_PREFIXES: prefixes } = settings.ok
    ? settings.settings
    : settings.sound;
  const own = read.values.programme ?? named ?? null;
  const root = options.root ?? packageRoot;
  const rules = { registry, words: options.words ?? [], hasBench: options.root === undefined };
  const path = read.values.changes;
  if (path !== undefined) {
    const checked = checkChanges({ path, root, programme: own, rules });
    return sayChanges(checked, { root, isWritten: write, isJson: json }, out.stdout);
  }
  const content = loadContent(root, own);
  const roster = read.values.roster === undefined ? null : checkRoster(read.values.roster, content, prefixes);
  // What cannot be read of a programme makes further faults that are none.
  const isRead = own === null || content.problems.length === 0;
  const problems = sortProblems([
    ...(settings.ok ? [] : settings.faults.map((fault) => settingsProblem(fault, out.settingsFile ?? null))),
    ...(roster?.problems ?? []),
    ...(isRead ? packageProblems(content, root, rules) : content.problems),
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
  else if (words) writeWords(content, registry, root, json, out.stdout);
  // A package of one's own has no whole case to play.
  else {
    const cases = options.root === undefined ? await wholeCaseCosts(content) : [];
    writeCost(content, registry, { cases, own, people: roster?.words ?? null, root }, json, out.stdout);
  }
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

function writeWords({ sources }: Content, registry: CheckRegistry, root: string, json: boolean, to: Output): void {
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
  for (const { locale } of measured) to.write(`${howReadLine(howRead(locale, root))}\n`);
  for (const problem of problems) to.write(`${problemLine(problem)}\n`);
}

interface Found {
  readonly cases: readonly CaseCost[];
  /** The programme's file where it is not the package's. */
  readonly own: string | null;
  /** Who is on the roster that was checked. */
  readonly people: string | null;
  readonly root: string;
}

function writeCost(
  content: Content,
  registry: CheckRegistry,
  { cases, own, people, root }: Found,
  json: boolean,
  to: Output,
): void {
  const rows = costRows(content.sources.locales, registry);
  const languages = content.sources.locales.map((locale) => howRead(locale, root));
  if (json) {
    to.write(`${JSON.stringify({ ok: true, languages, cost: rows, wholeCase: cases })}\n`);
    return;
  }
  to.write(`ok: ${content.flows.newest.size} flows, ${content.sources.locales.length} languages\n`);
  if (own !== null) to.write(`programme ${content.programme.name} (${content.programme.id}) of ${own}\n`);
  if (people !== null) to.write(`${people}\n`);
  for (const one of languages) to.write(`${howReadLine(one)}\n`);
  to.write('\n');
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
