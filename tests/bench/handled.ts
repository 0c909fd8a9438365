/** Handled texts, whole: the line and its baselines at the same questions, in turns, on one disk. */
import { rmSync } from 'node:fs';
import { join } from 'node:path';
import { benchFolder } from './bench-folder.ts';
import { type Contestant, measureRound, type Round } from './contestant.ts';
import { openGrammy } from './grammy-baseline.ts';
import { openOneRow } from './one-row-baseline.ts';
import { recordQuestions } from './questions.ts';
import { type Spread, spread } from './statistics.ts';
import type { Visit } from './visit.ts';
import { WholeLine } from './whole-line.ts';
import { openXstate } from './xstate-baseline.ts';

/** How much is measured. */
export interface Counts {
  /** Who texts at once. */
  readonly people: number;
  /** Rounds of each contestant that count, and those before them that do not. */
  readonly rounds: number;
  readonly warmRounds: number;
  /** Visits of the person who is alone, a round. */
  readonly visitsAlone: number;
}

export const contestants = ['line', 'grammy', 'xstate', 'oneRow'] as const;
export type ContestantName = (typeof contestants)[number];

/** Medians of the rounds. */
export type Rounds = { readonly [figure in Exclude<keyof Round, 'texts'>]: Spread };

export interface Handled {
  readonly questions: number;
  /** Texts of one round. */
  readonly texts: { readonly alone: number; readonly together: number };
  readonly alone: Readonly<Record<ContestantName, Rounds>>;
  readonly together: Readonly<Record<ContestantName, Rounds>>;
}

/** Opens everybody on fresh files. The last person is the one who texts alone. */
export async function openAll(
  folder: string,
  visit: Visit,
  people: number,
): Promise<Readonly<Record<ContestantName, Contestant>>> {
  const questions = await recordQuestions(visit);
  return {
    line: await WholeLine.open(folder, visit, people + 1),
    grammy: openGrammy(join(folder, 'grammy.db'), questions),
    xstate: openXstate(join(folder, 'xstate.db'), questions),
    oneRow: openOneRow(join(folder, 'one-row.db')),
  };
}

/** Measures one kind of visit. A round of each comes before the next round of anybody. */
export async function measureHandled(visit: Visit, counts: Counts): Promise<Handled> {
  const folder = benchFolder();
  const all = await openAll(folder, visit, counts.people);
  const everybody = Array.from({ length: counts.people }, (_, number) => number);
  const turns = visit.questions + 1;
  const alone = emptyRounds();
  const together = emptyRounds();
  try {
    for (const name of contestants) await spreadOut(all[name], everybody, turns);
    for (let round = -counts.warmRounds; round < counts.rounds; round += 1) {
      for (const name of contestants) {
        const one = await measureRound(all[name], [counts.people], turns * counts.visitsAlone);
        if (round >= 0) alone[name].push(one);
      }
      for (const name of contestants) {
        const one = await measureRound(all[name], everybody, turns);
        if (round >= 0) together[name].push(one);
      }
    }
  } finally {
    for (const one of Object.values(all)) await one.close();
    rmSync(folder, { recursive: true, force: true });
  }
  return {
    questions: visit.questions,
    texts: { alone: turns * counts.visitsAlone, together: turns * counts.people },
    alone: mediansOf(alone),
    together: mediansOf(together),
  };
}

/** Puts people at different places of their visits, as people are. */
export async function spreadOut(of: Contestant, people: readonly number[], turns: number): Promise<void> {
  for (let turn = 0; turn < turns; turn += 1) {
    const ahead = people.filter((number) => number % turns > turn);
    if (ahead.length === 0) return;
    await of.handle(ahead);
    await of.send();
  }
}

function emptyRounds(): Record<ContestantName, Round[]> {
  return { line: [], grammy: [], xstate: [], oneRow: [] };
}

function mediansOf(rounds: Readonly<Record<ContestantName, readonly Round[]>>): Record<ContestantName, Rounds> {
  return Object.fromEntries(contestants.map((name) => [name, medianOf(rounds[name])])) as Record<
    ContestantName,
    Rounds
  >;
}

function medianOf(rounds: readonly Round[]): Rounds {
  const of = (figure: keyof Rounds) => spread(rounds.map((one) => one[figure]));
  return {
    rate: of('rate'),
    rateSent: of('rateSent'),
    cpuMs: of('cpuMs'),
    cpuSentMs: of('cpuSentMs'),
    p50Ms: of('p50Ms'),
    p99Ms: of('p99Ms'),
  };
}
