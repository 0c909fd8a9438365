/** Whoever handles texts in the bench, and how one round of it is measured. */
import { percentile, sum } from './statistics.ts';

/** Something that holds conversations with numbered people. */
export interface Contestant {
  /** Takes the next text of each of these people at once. Resolves when all of them are durable. Counted. */
  handle(people: readonly number[]): Promise<void>;
  /** Brings the answers out, where that does not belong to handling. Counted apart. */
  send(): Promise<void>;
  close(): Promise<void>;
}

/** Figures of one round. */
export interface Round {
  readonly texts: number;
  /** Handled texts a second. */
  readonly rate: number;
  /** The same with the answers brought out. */
  readonly rateSent: number;
  /** Processor time of this process for one text, ms: handling, and with the answers brought out. */
  readonly cpuMs: number;
  readonly cpuSentMs: number;
  /** From the call to the durable text, ms. With several people at once: until all of them are. */
  readonly p50Ms: number;
  readonly p99Ms: number;
}

/** `turns` times one text of each of `people` at once. */
export async function measureRound(of: Contestant, people: readonly number[], turns: number): Promise<Round> {
  const handling: number[] = [];
  const sending: number[] = [];
  let handlingCpu = 0;
  let sendingCpu = 0;
  for (let turn = 0; turn < turns; turn += 1) {
    const cpuBegun = process.cpuUsage();
    const begun = performance.now();
    await of.handle(people);
    const handled = performance.now();
    const cpuHandled = cpuMsSince(cpuBegun);
    await of.send();
    sending.push(performance.now() - handled);
    handling.push(handled - begun);
    handlingCpu += cpuHandled;
    sendingCpu += cpuMsSince(cpuBegun) - cpuHandled;
  }
  const texts = turns * people.length;
  return {
    texts,
    rate: (1000 * texts) / sum(handling),
    rateSent: (1000 * texts) / (sum(handling) + sum(sending)),
    cpuMs: handlingCpu / texts,
    cpuSentMs: (handlingCpu + sendingCpu) / texts,
    p50Ms: percentile(handling, 0.5),
    p99Ms: percentile(handling, 0.99),
  };
}

function cpuMsSince(begun: NodeJS.CpuUsage): number {
  const { user, system } = process.cpuUsage(begun);
  return (user + system) / 1000;
}
