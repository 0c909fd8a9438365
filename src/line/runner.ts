/** Runs the pumps in real time. The only file of the line with a timer, and that one is bounded. */
import type { Line } from './line.ts';
import type { Clock, Log } from './ports.ts';

/** Longest sleep, ms: a moved clock or another process' row is noticed within it. */
const longestSleepMs = 1000;
/** Sleep after a failed round, ms. */
const afterFaultMs = 3000;

export interface Runner {
  /** Looks now instead of at the next instant. */
  nudge(): void;
  /** Ends after the round under way. */
  stop(): Promise<void>;
}

/** Starts the pumps. A round that fails is logged and tried again; it never ends the line. */
export function startRunner(line: Line, clock: Clock, log: Log): Runner {
  let timer: NodeJS.Timeout | null = null;
  let wake: (() => void) | null = null;
  let ended = false;
  let nudged = false;

  const sleep = (ms: number): Promise<void> =>
    new Promise((resolve) => {
      if (nudged || ended) {
        nudged = false;
        resolve();
        return;
      }
      const done = (): void => {
        if (timer) clearTimeout(timer);
        timer = null;
        wake = null;
        nudged = false;
        resolve();
      };
      wake = done;
      timer = setTimeout(done, ms);
    });

  const run = async (): Promise<void> => {
    while (!ended) {
      let pause = longestSleepMs;
      try {
        const next = await line.settle();
        // Something due that could not be handled is looked at again, but not at once.
        if (next !== null) pause = next <= clock.now() ? afterFaultMs : Math.min(longestSleepMs, next - clock.now());
      } catch (error) {
        log.write('error', 'round-failed', { code: error instanceof Error ? error.name : 'unknown' });
        pause = afterFaultMs;
      }
      await sleep(pause);
    }
  };
  const running = run();

  return {
    nudge: () => {
      nudged = true;
      wake?.();
    },
    stop: async () => {
      ended = true;
      wake?.();
      await running;
    },
  };
}
