/** Runs the pumps in real time. The only file of the line with a timer for itself, and that one is bounded. */
import { errorCode } from '../text/error-code.ts';
import type { ComeBack } from './come-back.ts';
import type { Keeper } from './keep.ts';
import type { Line } from './line.ts';
import { Mender } from './mender.ts';
import type { Clock, Log } from './ports.ts';

/** Longest sleep, ms: a moved clock or another process' row is noticed within it. */
const longestSleepMs = 1000;
/** Sleep after a failed round, ms. */
const afterFaultMs = 3000;
/** Pause between two looks at the links, ms. */
const watchEveryMs = 30_000;
/** Pause between two looks at what is kept, ms. */
const keepEveryMs = 300_000;
/** Pause between two looks for texts of a process that died, ms. */
const takeOverEveryMs = 10_000;
/** The start's look at what points to nothing is not repeated; the pump sleeps, ms. */
const mendEveryMs = 86_400_000;
/** Longest wait for texts on their way at the end, ms: an orderly stop takes under five seconds. */
const endWithinMs = 3000;

export interface Runner {
  /** Looks now instead of at the next instant. */
  nudge(): void;
  /** Ends after the round under way. */
  stop(): Promise<void>;
}

/**
 * Starts the pumps: what is due, what is to be sent, how the links do, whom to alert, what was
 * kept for long enough. They run beside each other, so that a gateway
 * that hangs stops no timer. A round that fails is logged and tried again; it never ends the line.
 */
export function startRunner(
  line: Line,
  clock: Clock,
  log: Log,
  real: { readonly keeper: Keeper; readonly comeBack: ComeBack } | null = null,
): Runner {
  const { store } = line;
  const fault = (error: unknown): number => {
    log.write('error', 'round-failed', { code: errorCode(error) });
    return afterFaultMs;
  };
  const untilOf = (next: number | null): number =>
    // Something that could not be handled is looked at again, but not at once.
    next === null ? longestSleepMs : next <= clock.now() ? afterFaultMs : Math.min(longestSleepMs, next - clock.now());

  const sending = new Pump(async () => {
    const paceMs = await line.courier.pump(() => sending.nudge());
    const until = untilOf(await store.nextOutboxAt());
    return paceMs === null ? until : Math.min(until, paceMs);
  }, fault);
  line.aboutToSend = () => sending.nudge();
  const waking = new Pump(async () => {
    const next = await line.settleDue();
    sending.nudge();
    return untilOf(next);
  }, fault);
  const takingOver = new Pump(async () => {
    const count = await store.takeOver(clock.now());
    if (count > 0) log.write('warn', 'texts-recovered', { count });
    if (count > 0) sending.nudge();
    return takeOverEveryMs;
  }, fault);
  const mender = new Mender({ store, clock, log });
  const mending = new Pump(async () => {
    const more = await mender.next();
    if (!more) waking.nudge();
    return more ? 0 : mendEveryMs;
  }, fault);
  // Beside all else: a receiver that hangs holds up nothing but further alerts.
  const { alerts, watch } = line;
  const alerting =
    real && alerts
      ? new Pump(async () => {
          await alerts.look(watch.conditions);
          return watchEveryMs;
        }, fault)
      : null;
  // The links of simulated phones are not watched, and nobody's data are behind them.
  const watching = real
    ? new Pump(async () => {
        // The first look notes that the line is alive.
        if (await real.comeBack.next()) return 0;
        await line.watch.look();
        await line.unreadable.look();
        waking.nudge();
        alerting?.nudge();
        return watchEveryMs;
      }, fault)
    : null;
  const keeping = real
    ? new Pump(async () => {
        await real.keeper.look();
        return keepEveryMs;
      }, fault)
    : null;

  return {
    nudge: () => {
      waking.nudge();
      sending.nudge();
    },
    stop: async () => {
      alerts?.end();
      await Promise.all([
        waking.end(),
        takingOver.end(),
        mending.end(),
        watching?.end(),
        keeping?.end(),
        alerting?.end(),
      ]);
      await within(line.courier.end(), endWithinMs);
      await sending.end();
    },
  };
}

async function within(work: Promise<unknown>, ms: number): Promise<void> {
  let timer: NodeJS.Timeout | undefined;
  const patience = new Promise((resolve) => {
    timer = setTimeout(resolve, ms);
  });
  await Promise.race([work, patience]);
  clearTimeout(timer);
}

/** One round after the other, each followed by the sleep that it asks for. */
class Pump {
  private readonly round: () => Promise<number>;
  private readonly fault: (error: unknown) => number;
  private readonly running: Promise<void>;
  private wake: (() => void) | null = null;
  private nudged = false;
  private ended = false;

  constructor(round: () => Promise<number>, fault: (error: unknown) => number) {
    this.round = round;
    this.fault = fault;
    this.running = Promise.resolve().then(() => this.run());
  }

  nudge(): void {
    this.nudged = true;
    this.wake?.();
  }

  async end(): Promise<void> {
    this.ended = true;
    this.wake?.();
    await this.running;
  }

  private async run(): Promise<void> {
    while (!this.ended) {
      this.nudged = false;
      const pause = await this.round().catch(this.fault);
      await this.sleep(pause);
    }
  }

  private sleep(ms: number): Promise<void> {
    return new Promise((resolve) => {
      if (this.nudged || this.ended) return resolve();
      const timer = setTimeout(() => this.wake?.(), ms);
      this.wake = () => {
        clearTimeout(timer);
        this.wake = null;
        resolve();
      };
    });
  }
}
