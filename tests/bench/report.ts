/** All that one run of the bench found. */
import { availableParallelism, loadavg } from 'node:os';
import { type AlarmRun, type ChainRun, measureAlarms, measureChain, measureSmall, type SmallRun } from './chain.ts';
import { type Growth, type GrowthPlan, measureGrowth } from './growth.ts';
import { type Counts, type Handled, measureHandled } from './handled.ts';
import { countDatabaseUse, type DatabaseUses, measureParts, type PartsOf } from './parts.ts';
import { measureShared, type SharedRun } from './postgres.ts';
import { measureStarts, type Starts } from './start.ts';
import { longVisit, shortVisit } from './visit.ts';

export interface Report {
  readonly day: string;
  readonly cores: number;
  /** Average of processes that wanted to run in the minute before: more than a bit means that others disturbed it. */
  readonly loadBefore: number;
  readonly node: string;
  readonly people: number;
  readonly handled: readonly Handled[];
  readonly parts: readonly PartsOf[];
  readonly databaseUse: readonly {
    readonly questions: number;
    readonly uses: Readonly<Record<'line' | 'grammy' | 'xstate', DatabaseUses>>;
  }[];
  readonly chain: readonly ChainRun[];
  /** SOS while texts come in at a rate that is the line's limit or above it. */
  readonly alarms: AlarmRun;
  /** The chain on a line that may use little memory. */
  readonly small: SmallRun;
  readonly growth: Growth;
  /** Several processes on one PostgreSQL database; null where no server is installed. */
  readonly shared: readonly SharedRun[] | null;
  readonly starts: Starts;
}

/** How much a run measures. */
export interface Plan {
  readonly counts: Counts;
  readonly chain: { readonly people: number; readonly rates: readonly number[]; readonly seconds: number };
  readonly alarms: {
    readonly people: number;
    readonly rate: number;
    readonly seconds: number;
    readonly aSecond: number;
  };
  readonly small: { readonly people: number; readonly rate: number; readonly seconds: number };
  readonly growth: GrowthPlan;
  readonly shared: { readonly people: number; readonly processes: readonly number[]; readonly seconds: number };
  readonly starts: { readonly people: number; readonly rounds: number; readonly warmRounds: number };
}

/** `npm run bench`. */
export const wholePlan: Plan = {
  counts: { people: 32, rounds: 5, warmRounds: 5, visitsAlone: 4 },
  chain: { people: 100, rates: [20, 50, 100, 200], seconds: 30 },
  alarms: { people: 600, rate: 300, seconds: 30, aSecond: 10 },
  small: { people: 100, rate: 100, seconds: 60 },
  growth: {
    people: 32,
    rounds: 5,
    warmRounds: 3,
    wholeCases: 100_000,
    thinCases: 1_000_000,
    roster: 20_000,
    timers: 100_000,
  },
  shared: { people: 64, processes: [1, 2, 4], seconds: 15 },
  starts: { people: 100_000, rounds: 5, warmRounds: 1 },
};

/** Runs everything; `say` is told what begins. */
export async function measureAll(plan: Plan, say: (what: string) => void): Promise<Report> {
  const { counts, chain, starts } = plan;
  const [loadBefore = 0] = loadavg();
  const handled: Handled[] = [];
  const parts: PartsOf[] = [];
  const databaseUse: Report['databaseUse'][number][] = [];
  for (const visit of [shortVisit, longVisit]) {
    const { questions } = visit;
    say(`handled texts, ${questions} questions`);
    handled.push(await measureHandled(visit, counts));
    say(`parts and counts, ${questions} questions`);
    parts.push(await measureParts(visit, counts.people, counts.visitsAlone));
    databaseUse.push({ questions, uses: await countDatabaseUse(visit, counts.people) });
  }
  const runs: ChainRun[] = [];
  for (const rate of chain.rates) {
    say(`the chain, ${rate} texts a second`);
    runs.push(await measureChain(shortVisit, chain.people, rate, chain.seconds));
  }
  const { alarms, small, growth, shared } = plan;
  say(`${alarms.rate} texts a second, and SOS`);
  const cried = await measureAlarms(shortVisit, alarms.people, alarms.rate, alarms.seconds, alarms.aSecond);
  say('little memory');
  const onSmall = await measureSmall(shortVisit, small.people, small.rate, small.seconds);
  say('growth');
  const grown = await measureGrowth(growth);
  say('several processes');
  const onOneDatabase = await measureShared(shortVisit, shared.people, shared.processes, shared.seconds);
  say('starts');
  return {
    day: new Date().toISOString().slice(0, 10),
    cores: availableParallelism(),
    loadBefore,
    node: process.version,
    people: counts.people,
    handled,
    parts,
    databaseUse,
    chain: runs,
    alarms: cried,
    small: onSmall,
    growth: grown,
    shared: onOneDatabase,
    starts: await measureStarts(starts.people, starts.rounds, starts.warmRounds),
  };
}
