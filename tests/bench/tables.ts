/** A run of the bench as tables, for the terminal and the README. Wanted figures: what the line is built for. */

import { smallFlags } from './chain.ts';
import type { ContestantName, Handled } from './handled.ts';
import type { Report } from './report.ts';
import type { Spread } from './statistics.ts';

const whole = (value: number) => Math.round(value).toLocaleString('en');
const ratio = (value: number) => value.toFixed(2);
const ms = (value: number) => (value >= 100 ? whole(value) : value >= 10 ? value.toFixed(1) : value.toFixed(2));
const withEnds = ({ median, least, most }: Spread, as: (value: number) => string) =>
  `${as(median)} (${as(least)} to ${as(most)})`;

function table(head: readonly string[], rows: readonly (readonly string[])[]): string {
  const line = (cells: readonly string[]) => `| ${cells.join(' | ')} |`;
  return [head, head.map(() => '---'), ...rows].map(line).join('\n');
}

/** Against grammY's plugin, by questions: at least so many times its rate with people at once. */
const wantedOfGrammy: Readonly<Record<number, string>> = { 12: '2.00', 40: '3.00' };
const columns: Readonly<Record<ContestantName, string>> = {
  line: 'the line',
  grammy: "grammY's conversations",
  xstate: "XState's transition",
  oneRow: 'one row by hand',
};
const names = Object.keys(columns) as ContestantName[];

function rates({ handled, people }: Report): string {
  const rows = handled.flatMap((one) => {
    const row = (way: 'together' | 'alone', words: string) => {
      const rate = (name: ContestantName) => one[way][name].rate;
      const against = (name: ContestantName) => ratio(rate('line').median / rate(name).median);
      const [ofGrammy, ofXstate] = way === 'together' ? [wantedOfGrammy[one.questions] ?? '-', '1.00'] : ['-', '-'];
      return [
        `${one.questions} questions, ${words}`,
        ...names.map((name) => withEnds(rate(name), whole)),
        against('grammy'),
        ofGrammy,
        against('xstate'),
        ofXstate,
      ];
    };
    return [row('together', `${people} people at once`), row('alone', 'one person alone')];
  });
  const head = ['handled texts a second', ...names.map((name) => columns[name])];
  return table([...head, 'line : grammY', 'wanted', 'line : XState', 'wanted'], rows);
}

function costOfText({ handled, databaseUse, people }: Report): string {
  const rows = handled.flatMap((one) => {
    const uses = databaseUse.find((each) => each.questions === one.questions)!.uses;
    const counted = (of: 'statements' | 'commits', way: 'alone' | 'together') =>
      names.map((name) => (name === 'oneRow' ? '1.00' : ratio(uses[name][way][of])));
    const figures = (way: 'alone' | 'together', figure: 'p50Ms' | 'p99Ms' | 'cpuMs') =>
      names.map((name) => ms(one[way][name][figure].median));
    const twice = 2 * one.alone.oneRow.p50Ms.median;
    const label = (words: string) => `${one.questions} questions: ${words}`;
    return [
      [label('alone, p50, ms'), ...figures('alone', 'p50Ms'), ms(twice)],
      [label('alone, p99, ms'), ...figures('alone', 'p99Ms'), '-'],
      [label('alone, processor time, ms'), ...figures('alone', 'cpuMs'), '-'],
      [label(`${people} at once, processor time, ms`), ...figures('together', 'cpuMs'), '0.60'],
      [label('alone, SQL statements'), ...counted('statements', 'alone'), '-'],
      [label('alone, commits'), ...counted('commits', 'alone'), '-'],
      [label(`${people} at once, commits`), ...counted('commits', 'together'), '-'],
    ];
  });
  return table(['one handled text', ...names.map((name) => columns[name]), 'wanted of the line'], rows);
}

function partsOfText({ parts, databaseUse, people }: Report): string {
  const rows = parts.flatMap((one) => {
    const uses = databaseUse.find((each) => each.questions === one.questions)!.uses.line;
    const row = (way: 'alone' | 'together', words: string) => {
      const { load, step, commit, send } = one[way];
      const sent = `${ratio(uses[way].statementsSent)}, ${ratio(uses[way].commitsSent)}`;
      return [`${one.questions} questions, ${words}`, ms(load), ms(step), ms(commit), ms(send), sent];
    };
    return [row('alone', 'alone'), row('together', `${people} at once`)];
  });
  const head = ['parts of one text, ms', 'load', 'step', 'commit', 'afterwards: sending', 'its statements, commits'];
  return table(head, rows);
}

function rateWithSending({ handled, people }: Report): string {
  const row = (one: Handled, way: 'alone' | 'together', words: string) => [
    `${one.questions} questions, ${words}`,
    withEnds(one[way].line.rateSent, whole),
    ms(one[way].line.cpuSentMs.median),
  ];
  const rows = handled.flatMap((one) => [
    row(one, 'together', `${people} people at once`),
    row(one, 'alone', 'one person alone'),
  ]);
  return table(['the line, handled and sent', 'texts a second', 'processor time of a text, ms'], rows);
}

/** Of the chain, by its rate, ms. */
const wantedP99: Readonly<Record<number, string>> = { 50: '1,000', 100: '1,000' };

function chain({ chain: runs }: Report): string {
  const rows = runs.map((run) => [
    `${run.rate} a second, ${run.people} people, ${run.seconds} s`,
    ms(run.p50Ms),
    ms(run.p99Ms),
    wantedP99[run.rate] ?? '-',
    ms(run.mostMs),
    `${run.unanswered} of ${whole(run.texts)}`,
    whole(run.heldUp),
    run.cpuMs === null ? '-' : ms(run.cpuMs),
  ]);
  const head = ['texts', 'p50, ms', 'p99, ms', 'wanted p99', 'longest, ms', 'unanswered in 20 s', 'held up'];
  return table([...head, 'processor time of a text, ms'], rows);
}

function alarms({ alarms: run, chain: runs }: Report): string {
  const { beside } = run;
  const row = (words: string, of: Pick<typeof run, 'p50Ms' | 'p99Ms' | 'mostMs'>, wanted: string, missed: string) => [
    ...[words, ms(of.p50Ms), ms(of.p99Ms), wanted, ms(of.mostMs), missed],
  ];
  return table(
    [
      `${run.rate} texts a second, ${run.people} people, ${run.seconds} s`,
      'p50, ms',
      'p99, ms',
      'wanted p99',
      'longest, ms',
      'unanswered in 20 s',
    ],
    [
      row(`SOS to first aid, ${run.alarms} of them`, run, '300', `${run.unanswered} of ${run.alarms}`),
      row('the other texts', beside, '-', `${beside.unanswered} of ${whole(beside.texts)}`),
      ...runs
        .filter((one) => one.rate === 100)
        .map((one) =>
          row('for comparison: 100 a second, no SOS', one, '-', `${one.unanswered} of ${whole(one.texts)}`),
        ),
    ],
  );
}

function growth({ growth: { lines, answers } }: Report): string {
  const [empty, ...grown] = lines;
  const megabytes = (bytes: number) => `${whole(bytes / 1e6)} MB`;
  const row = (words: string, cpu: Spread, than: Spread, wanted: string, size: string) => [
    ...[words, withEnds(cpu, ms), ratio(cpu.median / than.median), wanted, size],
  ];
  return table(
    ['handled and sent, 32 people at once', 'processor time of a text, ms', 'ratio', 'wanted', 'database'],
    [
      row(empty!.what, empty!.cpuMs, empty!.cpuMs, '-', megabytes(empty!.bytes)),
      ...grown.map((one) => row(one.what, one.cpuMs, empty!.cpuMs, '1.20', megabytes(one.bytes))),
      row('a question early in a case of 40 answers (the 15th)', answers.early, answers.early, '-', '-'),
      row('the same question late in it (the 27th)', answers.late, answers.early, '1.10', '-'),
    ],
  );
}

function small({ small: { run, startMb, endMb, mostLogBytes } }: Report): string {
  const megabytes = (value: number | null) => (value === null ? '-' : `${Math.round(value)} MB`);
  return table(
    [
      `\`NODE_OPTIONS="${smallFlags.join(' ')}"\``,
      'resident, first text',
      'after the last',
      'log of the database at most',
      'p50, ms',
      'p99, ms',
      'unanswered in 20 s',
    ],
    [
      [
        `${whole(run.texts)} texts, ${run.rate} a second`,
        ...[megabytes(startMb), megabytes(endMb), megabytes(mostLogBytes / 1e6), ms(run.p50Ms), ms(run.p99Ms)],
        `${run.unanswered} of ${whole(run.texts)}`,
      ],
    ],
  );
}

function shared({ shared: runs }: Report): string {
  const rows = (runs ?? []).map((run) => [
    `${run.processes}`,
    whole(run.rate),
    ratio(run.rate / runs![0]!.rate),
    `${run.unanswered}`,
    `${run.offScript}`,
  ]);
  return table(
    [
      'processes of the line on one PostgreSQL database',
      'texts answered a second',
      'of one process',
      'unanswered',
      'not as recorded',
    ],
    rows,
  );
}

function starts({ starts: { emptyNode, plain, withMany, people } }: Report): string {
  const megabytes = (of: typeof plain) => (of.megabytes === null ? '-' : `${Math.round(of.megabytes)} MB`);
  const row = (words: string, of: typeof plain, other: string, than: typeof plain, wanted: string) => [
    ...[words, whole(of.readyMs), megabytes(of), other, whole(than.readyMs)],
    ...[ratio(of.readyMs / than.readyMs), wanted],
  ];
  const head = ['from the start to the first page', 'ms', 'resident', 'compared with', 'ms', 'ratio', 'wanted'];
  return table(head, [
    row('an idle line', plain, 'an empty Node process', emptyNode, '1,000 ms, 120 MB'),
    row(`${whole(people)} open conversations and timers`, withMany, 'an idle line', plain, '2,000 ms'),
  ]);
}

/** Tables by the names of the README's blocks, in order. */
export function speedTables(report: Report): Readonly<Record<string, string>> {
  const { day, cores, node, loadBefore } = report;
  const quiet =
    loadBefore < 0.5 ? '' : ' Other work ran beside it: times are longer and rates lower than on a quiet machine.';
  return {
    'speed-run': `The figures below: ${day}, ${cores} cores, Node ${node}, load before the run ${loadBefore.toFixed(1)}.${quiet}`,
    'speed-handled': rates(report),
    'speed-cost': costOfText(report),
    'speed-parts': partsOfText(report),
    'speed-sent': rateWithSending(report),
    'speed-chain': chain(report),
    'speed-alarms': alarms(report),
    'speed-growth': growth(report),
    'speed-small': small(report),
    'speed-shared': shared(report),
    'speed-start': starts(report),
  };
}
