/** Several processes of a line on one PostgreSQL database: how many texts they take and answer a second. */
import { rmSync } from 'node:fs';
import { setTimeout as sleep } from 'node:timers/promises';
import { serverPrograms, startServer } from '../store/postgres-server.ts';
import { benchFolder } from './bench-folder.ts';
import { Caller } from './chain-caller.ts';
import { ChainGateway } from './chain-gateway.ts';
import { type ChainLine, prepareChainLine } from './chain-line.ts';
import { phoneOf } from './clinics.ts';
import { recordVisit } from './questions.ts';
import type { Visit } from './visit.ts';

export interface SharedRun {
  readonly processes: number;
  /** Texts that were answered, a second, everybody sending the next one when the last is answered. */
  readonly rate: number;
  /** Answers that were not the recorded ones, and texts without one. */
  readonly offScript: number;
  readonly unanswered: number;
}

/** Null where no PostgreSQL server is installed. Its own durability is on; each count of processes has a fresh database. */
export async function measureShared(
  visit: Visit,
  people: number,
  counts: readonly number[],
  seconds: number,
): Promise<readonly SharedRun[] | null> {
  const programs = serverPrograms();
  if (programs === null) return null;
  const server = await startServer(programs, { durable: true });
  try {
    const runs: SharedRun[] = [];
    for (const processes of counts) runs.push(await measureOne(server.fresh(), visit, people, processes, seconds));
    return runs;
  } finally {
    server.stop();
  }
}

async function measureOne(
  url: string,
  visit: Visit,
  people: number,
  processes: number,
  seconds: number,
): Promise<SharedRun> {
  const script = await recordVisit(visit);
  const folder = benchFolder();
  const gateway = new ChainGateway();
  await gateway.open();
  const lines: ChainLine[] = [];
  try {
    const start = await prepareChainLine({ folder, url }, people, gateway.port);
    for (let number = 0; number < processes; number += 1) lines.push(await start());
    gateway.linePorts = lines.map(({ port }) => port);
    const callers = Array.from({ length: people }, (_, number) => new Caller(number, script));
    const byPhone = new Map(callers.map((caller, number) => [phoneOf(number), caller]));
    gateway.taken = (to, text) => byPhone.get(to)?.take(text);
    const count = { answered: 0, offScript: 0, unanswered: 0 };
    let isOver = false;
    const talk = async (caller: Caller, number: number): Promise<void> => {
      while (!isOver) {
        const { answeredAt, isSilent, isOnScript } = await caller.say((text) => gateway.bring(phoneOf(number), text));
        if (!isOnScript) count.offScript += 1;
        if (!isSilent && answeredAt === null) count.unanswered += 1;
        else count.answered += 1;
      }
    };
    const talking = callers.map(talk);
    // Until all processes are warm.
    await sleep(warmSeconds * 1_000);
    const before = count.answered;
    await sleep(seconds * 1_000);
    const answered = count.answered - before;
    isOver = true;
    await Promise.all(talking);
    return { processes, rate: answered / seconds, offScript: count.offScript, unanswered: count.unanswered };
  } finally {
    for (const line of lines) await line.stop();
    await gateway.close();
    rmSync(folder, { recursive: true, force: true });
  }
}

const warmSeconds = 5;
