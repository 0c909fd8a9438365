/** What a text costs on a line that has grown, against an empty one: the same people, in turns, on one disk. */
import { execFileSync } from 'node:child_process';
import { mkdirSync, rmSync, statSync } from 'node:fs';
import { join } from 'node:path';
import Database from 'better-sqlite3';
import { packageRoot } from '../../src/content/load.ts';
import { benchFolder } from './bench-folder.ts';
import { type Contestant, measureRound, type Round } from './contestant.ts';
import { spreadOut } from './handled.ts';
import { type Spread, spread } from './statistics.ts';
import { longVisit, shortVisit } from './visit.ts';
import { WholeLine } from './whole-line.ts';

export interface GrowthPlan {
  /** Who texts at once, on each line. */
  readonly people: number;
  readonly rounds: number;
  readonly warmRounds: number;
  /** Cases as they are left by a visit, with their records, texts and keys. */
  readonly wholeCases: number;
  /** Rows of cases and keys alone. */
  readonly thinCases: number;
  readonly roster: number;
  readonly timers: number;
}

export interface Grown {
  readonly what: string;
  /** Processor time of one handled and sent text, ms. */
  readonly cpuMs: Spread;
  readonly rate: Spread;
  /** Size of the database at the end, bytes. */
  readonly bytes: number;
}

export interface Growth {
  readonly lines: readonly Grown[];
  /** One case of 40 answers, the same question answered early and late in it: processor time, ms. */
  readonly answers: { readonly early: Spread; readonly late: Spread };
  /** One whole case, from the lump to the closed result. */
  readonly wholeCase: WholeCase;
}

export interface WholeCase {
  /** Texts to the line and from it, all its people together. */
  readonly heard: number;
  readonly sent: number;
  /** What it takes on disk, by table with its indexes. */
  readonly bytes: Readonly<Record<string, number>>;
}

/** Cases that were really led, to be copied. */
const ledCases = 20;
const names = ['an empty line', 'whole cases', 'thin cases', 'people', 'timers'] as const;
type Name = (typeof names)[number];

/** Opens a line of each kind, then lets everybody text, one line after the other, round by round. */
export async function measureGrowth(plan: GrowthPlan): Promise<Growth> {
  const folder = benchFolder();
  try {
    const lines = await openLines(folder, plan);
    const everybody = Array.from({ length: plan.people }, (_, number) => number);
    const turns = shortVisit.questions + 1;
    const rounds = new Map<Name, Round[]>(names.map((name) => [name, []]));
    for (const name of names) await spreadOut(lines[name], everybody, turns);
    for (let round = -plan.warmRounds; round < plan.rounds; round += 1) {
      for (const name of names) {
        const one = await measureRound(lines[name], everybody, turns);
        if (round >= 0) rounds.get(name)!.push(one);
      }
    }
    for (const name of names) await lines[name].close();
    const words: Readonly<Record<Name, string>> = {
      'an empty line': 'an empty line',
      'whole cases': `${plan.wholeCases.toLocaleString('en')} whole cases stored`,
      'thin cases': `${plan.thinCases.toLocaleString('en')} cases stored without their records and texts`,
      people: `${plan.roster.toLocaleString('en')} people on the roster`,
      timers: `${plan.timers.toLocaleString('en')} timers set`,
    };
    return {
      lines: names.map((name) => ({
        what: words[name],
        cpuMs: spread(rounds.get(name)!.map((one) => one.cpuSentMs)),
        rate: spread(rounds.get(name)!.map((one) => one.rateSent)),
        bytes: statSync(join(folder, name, 'line.db')).size,
      })),
      answers: await measureAnswers(folder, plan),
      wholeCase: measureCase(folder, plan.wholeCases),
    };
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

async function openLines(folder: string, plan: GrowthPlan): Promise<Readonly<Record<Name, WholeLine>>> {
  const { people } = plan;
  const at = (name: Name): string => {
    mkdirSync(join(folder, name), { recursive: true });
    return join(folder, name);
  };
  const fileOf = (name: Name) => join(at(name), 'line.db');
  for (const name of ['whole cases', 'thin cases', 'timers'] as const) {
    const line = await WholeLine.open(at(name), shortVisit, people + 1);
    for (let led = 0; led < ledCases; led += 1) await line.visitOf(people, shortVisit.questions);
    await line.close();
  }
  copyCases(fileOf('whole cases'), plan.wholeCases, ledCases);
  copyThin(fileOf('thin cases'), plan.thinCases);
  setTimers(fileOf('timers'), plan.timers);
  const open = (name: Name, count = people + 1) => WholeLine.open(at(name), shortVisit, count);
  return {
    'an empty line': await open('an empty line'),
    'whole cases': await open('whole cases'),
    'thin cases': await open('thin cases'),
    people: await open('people', plan.roster),
    timers: await open('timers'),
  };
}

/** Copies of the case that is played from beginning to end, so that pages are as full as on a line that has run for long. */
const playedCopies = 500;

function measureCase(folder: string, copies: number): WholeCase {
  const file = join(folder, 'played.db');
  const script = join(packageRoot, 'tests/conversations/straight.play');
  execFileSync(process.execPath, [join(packageRoot, 'dist/main.js'), 'play', script, '--db', file], { stdio: 'pipe' });
  const [heard, sent] = unwatched(file, (db) => {
    const count = db.prepare('select count(*) from messages where direction = ?').pluck();
    return [count.get('in') as number, count.get('out') as number];
  });
  return { heard, sent, bytes: copyCases(file, Math.min(copies, playedCopies), 1) };
}

/** Which answers of the long visit say what is inside the first lump: when it is first asked, and when it is put right. */
export const insideAnswers = { early: 15, late: 27 } as const;

async function measureAnswers(folder: string, plan: GrowthPlan): Promise<Growth['answers']> {
  const at = join(folder, 'answers');
  mkdirSync(at);
  const line: Contestant = await WholeLine.open(at, longVisit, plan.people);
  const everybody = Array.from({ length: plan.people }, (_, number) => number);
  const costs: { readonly [when in keyof typeof insideAnswers]: number[] } = { early: [], late: [] };
  for (let round = -plan.warmRounds; round < plan.rounds; round += 1) {
    for (let turn = 0; turn <= longVisit.questions; turn += 1) {
      const { cpuSentMs } = await measureRound(line, everybody, 1);
      if (round < 0) continue;
      if (turn === insideAnswers.early) costs.early.push(cpuSentMs);
      if (turn === insideAnswers.late) costs.late.push(cpuSentMs);
    }
  }
  await line.close();
  return { early: spread(costs.early), late: spread(costs.late) };
}

/** The bytes of the table and its indexes. */
function bytesOf(db: Database.Database, table: string): number {
  const sizes = db.prepare(
    `select coalesce(sum(s.pgsize), 0) from dbstat as s join sqlite_schema as m on m.name = s.name
      where m.tbl_name = ? and s.aggregate = true`,
  );
  return sizes.pluck().get(table) as number;
}

/** Rows that belong to a case, by table, with what makes each copy another row: `i` is the number of the copy. */
const ofCase: Readonly<Record<string, Readonly<Record<string, string>>>> = {
  cases: { id: "i || ':' || id", earlier_id: 'null', patient_mark: 'randomblob(32)' },
  case_events: { case_id: "i || ':' || case_id", event_id: "i || ':' || event_id" },
  messages: { seq: 'null', id: "i || ':' || id", case_id: "i || ':' || case_id", recipient: "i || ':' || recipient" },
  event_keys: { key: 'randomblob(32)' },
  data_keys: { id: "i || ':' || id" },
};

/** Copies the cases led there with all that belongs to them. Gives the bytes of one, by table. */
function copyCases(file: string, count: number, led: number): Readonly<Record<string, number>> {
  return unwatched(file, (db) => {
    const before = new Map(Object.keys(ofCase).map((table) => [table, bytesOf(db, table)]));
    for (const [table, changed] of Object.entries(ofCase)) copyRows(db, table, changed, Math.ceil(count / led));
    return Object.fromEntries(
      Object.keys(ofCase).map((table) => [table, Math.round((bytesOf(db, table) - before.get(table)!) / count)]),
    );
  });
}

/** Copies the rows of the cases and of their keys alone. */
function copyThin(file: string, count: number): void {
  unwatched(file, (db) => {
    const thin = { ...ofCase.cases, fold_sealed: 'randomblob(64)' };
    copyRows(db, 'cases', thin, Math.ceil(count / ledCases));
    copyRows(db, 'data_keys', ofCase.data_keys!, Math.ceil(count / ledCases));
  });
}

function setTimers(file: string, count: number): void {
  unwatched(file, (db) => {
    const columns = db.prepare("select name from pragma_table_info('due')").pluck().all() as string[];
    const values: Readonly<Record<string, string>> = {
      id: "'set:' || i",
      programme_id: '(select programme_id from people limit 1)',
      person_id: "'nobody' || i",
      frame_id: "'f' || i",
      name: "'timer'",
      kind: "'timer'",
      timer: "'timer'",
      due_at: '4102444800000 + i',
      wait: '86400000',
    };
    db.exec(
      `insert into due (${columns.join(', ')}) ${numbersTo(count)} select ${columns
        .map((name) => values[name] ?? 'null')
        .join(', ')} from n`,
    );
  });
}

const numbersTo = (count: number): string =>
  `with recursive n(i) as (select 1 union all select i + 1 from n where i < ${count})`;

function copyRows(
  db: Database.Database,
  table: string,
  changed: Readonly<Record<string, string>>,
  copies: number,
): void {
  const columns = db.prepare('select name from pragma_table_info(?)').pluck().all(table) as string[];
  db.exec(`create temp table led as select * from main.${table}`);
  const values = columns.map((name) => changed[name] ?? name).join(', ');
  db.exec(
    `insert into main.${table} (${columns.join(', ')}) ${numbersTo(copies)} select ${values} from n cross join temp.led`,
  );
  db.exec('drop table temp.led');
}

/** Writes behind the line's back, where nothing is to be durable yet. */
function unwatched<T>(file: string, work: (db: Database.Database) => T): T {
  const db = new Database(file);
  try {
    db.pragma('synchronous = off');
    db.pragma('foreign_keys = off');
    const made = db.transaction(() => work(db))();
    db.pragma('wal_checkpoint(truncate)');
    return made;
  } finally {
    db.close();
  }
}
