/** The whole chain: from the SMS door of the built line to the gateway's acceptance of the answer, at a fixed rate. */
import { rmSync } from 'node:fs';
import { setTimeout as sleep } from 'node:timers/promises';
import { benchFolder } from './bench-folder.ts';
import { Caller, type Outcome, patienceMs } from './chain-caller.ts';
import { ChainGateway } from './chain-gateway.ts';
import { type ChainLine, prepareChainLine } from './chain-line.ts';
import { phoneOf } from './clinics.ts';
import { recordVisit } from './questions.ts';
import { percentile } from './statistics.ts';
import type { Visit } from './visit.ts';

/** People who go through their first texts at once, before anything is measured. */
const warmingAtOnce = 8;

export interface ChainRun {
  /** Texts a second, their instants fixed beforehand. */
  readonly rate: number;
  readonly people: number;
  readonly seconds: number;
  readonly texts: number;
  /** Those of them that were sent before patience was at its end. */
  readonly sent: number;
  /** From the instant at which the text was due to the gateway's acceptance of the answer, ms; 20 s for those without. */
  readonly p50Ms: number;
  readonly p99Ms: number;
  readonly mostMs: number;
  /** Texts without an answer 20 s after they were due. */
  readonly unanswered: number;
  /** Texts that were due while everybody still waited for an answer: sent later, counted from when they were due. */
  readonly heldUp: number;
  /** Answers that were not the recorded ones. */
  readonly offScript: number;
  /** Processor time of the line for one text that was sent, ms: reports, timers and all. Null where the system does not say. */
  readonly cpuMs: number | null;
  /** The same of the generator, which shares the machine. */
  readonly generatorCpuMs: number;
}

/** A line with its gateway, and people at different places of their visits. */
interface Open {
  readonly line: ChainLine;
  readonly gateway: ChainGateway;
  readonly say: Say;
  /** A text that belongs to no visit; resolves when the phone got anything, null = not before patience was at its end. */
  readonly cry: (number: number, text: string) => Promise<number | null>;
}

/** Opens a fresh line with `people` on visits and so many more who only cry for help. */
async function withChain<T>(
  {
    visit,
    people,
    criers = 0,
    flags = [],
  }: { readonly visit: Visit; readonly people: number; readonly criers?: number; readonly flags?: readonly string[] },
  work: (open: Open) => Promise<T>,
): Promise<T> {
  const script = await recordVisit(visit);
  const folder = benchFolder();
  const gateway = new ChainGateway();
  await gateway.open();
  let line: ChainLine | null = null;
  try {
    line = await (await prepareChainLine({ folder }, people + criers, gateway.port))(flags);
    gateway.linePorts = [line.port];
    const callers = Array.from({ length: people }, (_, number) => new Caller(number, script));
    const byPhone = new Map(callers.map((caller, number) => [phoneOf(number), caller]));
    const crying = new Map<string, () => void>();
    gateway.taken = (to, text) => {
      byPhone.get(to)?.take(text);
      crying.get(to)?.();
    };
    const say: Say = (number) => callers[number]!.say((text) => gateway.bring(phoneOf(number), text));
    const cry = (number: number, text: string) =>
      new Promise<number | null>((resolve) => {
        const patience = setTimeout(() => resolve(null), patienceMs);
        crying.set(phoneOf(number), () => {
          clearTimeout(patience);
          resolve(performance.now());
        });
        void gateway.bring(phoneOf(number), text);
      });
    await warmUp(people, script.length, say);
    return await work({ line, gateway, say, cry });
  } finally {
    await line?.stop();
    await gateway.close();
    rmSync(folder, { recursive: true, force: true });
  }
}

/** One rate on a fresh line. */
export function measureChain(visit: Visit, people: number, rate: number, seconds: number): Promise<ChainRun> {
  return withChain({ visit, people }, ({ line, say }) => arrive(line, people, rate, seconds, say));
}

export interface AlarmRun {
  /** Texts a second that come in beside the alarms. */
  readonly rate: number;
  readonly people: number;
  readonly seconds: number;
  readonly alarms: number;
  /** From the instant at which the SOS was due to the gateway's acceptance of first aid, ms; 20 s for those without. */
  readonly p50Ms: number;
  readonly p99Ms: number;
  readonly mostMs: number;
  readonly unanswered: number;
  /** What the others had meanwhile. */
  readonly beside: ChainRun;
}

/** `SOS` from so many people a second who have nothing else to say, while others text at a fixed rate. */
export function measureAlarms(
  visit: Visit,
  people: number,
  rate: number,
  seconds: number,
  alarmsASecond: number,
): Promise<AlarmRun> {
  const alarms = alarmsASecond * seconds;
  return withChain({ visit, people, criers: alarms }, async ({ line, say, cry }) => {
    const startAt = performance.now();
    const cries = Array.from({ length: alarms }, async (_, number) => {
      const dueAt = startAt + (1000 * number) / alarmsASecond;
      await sleep(dueAt - performance.now());
      const answeredAt = await cry(people + number, 'SOS');
      return answeredAt === null ? patienceMs : Math.min(patienceMs, answeredAt - dueAt);
    });
    const beside = await arrive(line, people, rate, seconds, say);
    const latencies = await Promise.all(cries);
    return {
      ...{ rate, people, seconds, alarms },
      p50Ms: percentile(latencies, 0.5),
      p99Ms: percentile(latencies, 0.99),
      mostMs: Math.max(...latencies),
      unanswered: latencies.filter((one) => one >= patienceMs).length,
      beside,
    };
  });
}

/**
 * What Node is told on a machine with little memory: megabytes of old objects, and of each half of the young ones, without
 * which the old ones have no room left under the first.
 */
export const smallFlags = ['--max-old-space-size=64', '--max-semi-space-size=2'] as const;

export interface SmallRun {
  readonly run: ChainRun;
  /** Resident memory when the first text came, and after the last; null where the system does not say. */
  readonly startMb: number | null;
  readonly endMb: number | null;
  /** The database's log at its largest, looked at every second, bytes. */
  readonly mostLogBytes: number;
}

/** As `measureChain`, on a line that may use little memory. */
export function measureSmall(visit: Visit, people: number, rate: number, seconds: number): Promise<SmallRun> {
  return withChain({ visit, people, flags: smallFlags }, async ({ line, say }) => {
    const startMb = line.megabytes();
    let mostLogBytes = 0;
    const looking = setInterval(() => {
      mostLogBytes = Math.max(mostLogBytes, line.bytes().log);
    }, 1_000);
    try {
      const run = await arrive(line, people, rate, seconds, say);
      return { run, startMb, endMb: line.megabytes(), mostLogBytes };
    } finally {
      clearInterval(looking);
    }
  });
}

type Say = (number: number) => Promise<Outcome>;

/** Puts people at different places of their visits, a few at once. */
async function warmUp(people: number, turns: number, say: Say): Promise<void> {
  const waiting = Array.from({ length: people }, (_, number) => number);
  const one = async () => {
    for (let number = waiting.pop(); number !== undefined; number = waiting.pop()) {
      for (let turn = 0; turn < number % turns; turn += 1) await say(number);
    }
  };
  await Promise.all(Array.from({ length: warmingAtOnce }, one));
}

/** Texts at fixed instants, each by whoever has waited longest since the last answer. */
async function arrive(line: ChainLine, people: number, rate: number, seconds: number, say: Say): Promise<ChainRun> {
  const texts = Math.round(rate * seconds);
  const idle = Array.from({ length: people }, (_, number) => number);
  const held: number[] = [];
  const latencies: number[] = [];
  const under = new Set<Promise<void>>();
  const count = { sent: 0, unanswered: 0, heldUp: 0, offScript: 0 };

  const send = async (number: number, dueAt: number): Promise<void> => {
    count.sent += 1;
    const { answeredAt, isSilent, isOnScript } = await say(number);
    const late = answeredAt === null ? Number.POSITIVE_INFINITY : answeredAt - dueAt;
    if (!isOnScript) count.offScript += 1;
    if (!isSilent && late > patienceMs) count.unanswered += 1;
    if (!isSilent) latencies.push(Math.min(late, patienceMs));
    const next = held.shift();
    if (next === undefined) idle.push(number);
    else await send(number, next);
  };
  const begin = (dueAt: number) => {
    const number = idle.shift();
    if (number === undefined) {
      held.push(dueAt);
      count.heldUp += 1;
      return;
    }
    const sent = send(number, dueAt).finally(() => under.delete(sent));
    under.add(sent);
  };

  const cpuBegun = line.cpuMs();
  const generatorBegun = process.cpuUsage();
  const startAt = performance.now();
  for (let text = 0; text < texts; text += 1) {
    const dueAt = startAt + (1000 * text) / rate;
    const early = dueAt - performance.now();
    if (early > 0) await sleep(early);
    begin(dueAt);
  }
  await Promise.race([Promise.all(under), sleep(patienceMs, null, { ref: false })]);
  for (const _never of held.splice(0)) {
    count.unanswered += 1;
    latencies.push(patienceMs);
  }
  await Promise.all(under);
  const cpuEnded = line.cpuMs();
  const { user, system } = process.cpuUsage(generatorBegun);
  return {
    ...{ rate, people, seconds, texts },
    p50Ms: percentile(latencies, 0.5),
    p99Ms: percentile(latencies, 0.99),
    mostMs: Math.max(0, ...latencies),
    ...count,
    cpuMs: cpuBegun === null || cpuEnded === null ? null : (cpuEnded - cpuBegun) / count.sent,
    generatorCpuMs: (user + system) / 1000 / count.sent,
  };
}
