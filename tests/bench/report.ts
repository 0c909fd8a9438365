/** All that one run of the bench found. */
import { availableParallelism, loadavg } from 'node:os';
import { type ChainRun, measureChain } from './chain.ts';
import { type Counts, type Handled, measureHandled } from './handled.ts';
import { countDatabaseUse, type DatabaseUses, measureParts, type PartsOf } from './parts.ts';
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
  readonly starts: Starts;
}

/** How much a run measures. */
export interface Plan {
  readonly counts: Counts;
  readonly chain: { readonly people: number; readonly rates: readonly number[]; readonly seconds: number };
  readonly starts: { readonly people: number; readonly rounds: number; readonly warmRounds: number };
}

/** `npm run bench`. */
export const wholePlan: Plan = {
  counts: { people: 32, rounds: 5, warmRounds: 1, visitsAlone: 4 },
  chain: { people: 100, rates: [20, 50, 100], seconds: 30 },
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
    starts: await measureStarts(starts.people, starts.rounds, starts.warmRounds),
  };
}
