/** Parts of a handled text, and what it asks of the database. Parts, not the whole. */
import { rmSync } from 'node:fs';
import { benchFolder } from './bench-folder.ts';
import type { Contestant } from './contestant.ts';
import { openAll, spreadOut } from './handled.ts';
import { countSql } from './sql-count.ts';
import type { Visit } from './visit.ts';
import { WholeLine } from './whole-line.ts';

/** Milliseconds of one text. */
export interface Parts {
  readonly whole: number;
  readonly load: number;
  /** What lies between: the step, the look for patients alike, counting segments. */
  readonly step: number;
  readonly commit: number;
  /** After handling: claiming the answer, handing it to the channel, settling it. */
  readonly send: number;
}

/** For one text. */
export interface DatabaseUse {
  readonly statements: number;
  readonly commits: number;
  /** The same for bringing its answer out. */
  readonly statementsSent: number;
  readonly commitsSent: number;
}

export interface PartsOf {
  readonly questions: number;
  readonly alone: Parts;
  readonly together: Parts;
}

/** Where the line's time goes: one person through so many visits alone, then everybody through one at once. */
export async function measureParts(visit: Visit, people: number, visits: number): Promise<PartsOf> {
  const folder = benchFolder();
  const line = await WholeLine.open(folder, visit, people + 1);
  const turns = visit.questions + 1;
  const everybody = Array.from({ length: people }, (_, number) => number);
  try {
    await spreadOut(line, everybody, turns);
    await partsOf(line, everybody, turns);
    return {
      questions: visit.questions,
      alone: await partsOf(line, [people], turns * visits),
      together: await partsOf(line, everybody, turns),
    };
  } finally {
    await line.close();
    rmSync(folder, { recursive: true, force: true });
  }
}

async function partsOf(line: WholeLine, people: readonly number[], turns: number): Promise<Parts> {
  const total = { whole: 0, load: 0, commit: 0, send: 0 };
  for (let turn = 0; turn < turns; turn += 1) {
    const before = { ...line.spent };
    const begun = performance.now();
    await line.handle(people);
    const handled = performance.now();
    total.whole += handled - begun;
    total.load += line.spent.load - before.load;
    total.commit += line.spent.commit - before.commit;
    await line.send();
    total.send += performance.now() - handled;
  }
  const of = (ms: number) => ms / (turns * people.length);
  const { whole, load, commit, send } = total;
  return { whole: of(whole), load: of(load), step: of(whole - load - commit), commit: of(commit), send: of(send) };
}

export interface DatabaseUses {
  readonly alone: DatabaseUse;
  readonly together: DatabaseUse;
}

/** Counts what the line and the two baselines ask of the database, in runs that nobody times. */
export async function countDatabaseUse(
  visit: Visit,
  people: number,
): Promise<Readonly<Record<'line' | 'grammy' | 'xstate', DatabaseUses>>> {
  const counter = countSql();
  const folder = benchFolder();
  const all = await openAll(folder, visit, people);
  const everybody = Array.from({ length: people }, (_, number) => number);
  const turns = visit.questions + 1;
  const uses = async (of: Contestant): Promise<DatabaseUses> => {
    await spreadOut(of, everybody, turns);
    return { alone: await useOf(of, [people]), together: await useOf(of, everybody) };
  };
  const useOf = async (of: Contestant, who: readonly number[]): Promise<DatabaseUse> => {
    const handling = { statements: 0, commits: 0 };
    const sending = { statements: 0, commits: 0 };
    const during = async (sum: typeof handling, work: () => Promise<void>) => {
      const before = { ...counter.count };
      await work();
      sum.statements += counter.count.statements - before.statements;
      sum.commits += counter.count.commits - before.commits;
    };
    for (let turn = 0; turn < turns; turn += 1) {
      await during(handling, () => of.handle(who));
      await during(sending, () => of.send());
    }
    const a = (count: number) => count / (turns * who.length);
    return {
      statements: a(handling.statements),
      commits: a(handling.commits),
      statementsSent: a(sending.statements),
      commitsSent: a(sending.commits),
    };
  };
  try {
    return { line: await uses(all.line), grammy: await uses(all.grammy), xstate: await uses(all.xstate) };
  } finally {
    counter.stop();
    for (const one of Object.values(all)) await one.close();
    rmSync(folder, { recursive: true, force: true });
  }
}
