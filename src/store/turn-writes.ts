import type { Ended, Engine } from './dialects/dialect.ts';
import type { Steps } from './statement.ts';

/** One piece of work, to be run as often as it takes until it is kept. */
export type Piece = () => Steps<Ended>;

interface Waiting {
  readonly pieces: readonly Piece[];
  readonly last: boolean;
  readonly settle: (ends: readonly (Ended | Error)[]) => void;
}

export interface TurnWrites {
  /**
   * Writes the pieces in their order, with whatever else is written in this turn of the loop. `last`: after all of them,
   * so that it finds what they wrote. Never rejects: an error is the piece's answer.
   */
  write(pieces: readonly Piece[], last?: boolean): Promise<readonly (Ended | Error)[]>;
  /** Resolves when nothing waits or is being written. */
  idle(): Promise<void>;
}

/**
 * What is written in one turn of the loop becomes durable by one commit: texts that were handled, texts that were handed
 * over, reports, and the claim of what goes out next. A commit costs the same for one piece as for many. `turn` resolves
 * when all that came in together has been seen.
 */
export function turnWritesOn(
  each: Engine['each'],
  turn: () => Promise<unknown> = () => new Promise(setImmediate),
): TurnWrites {
  let waiting: Waiting[] = [];
  const running = new Set<Promise<void>>();
  const flush = async (): Promise<void> => {
    await turn();
    const order = [...waiting.filter((one) => !one.last), ...waiting.filter((one) => one.last)];
    waiting = [];
    const ends = await each(order.flatMap((one) => one.pieces));
    let from = 0;
    for (const { pieces, last, settle } of order) {
      // Whoever handed a text in hears that it is durable before anybody answers it.
      if (last && from > 0) await turn();
      settle(ends.slice(from, from + pieces.length));
      from += pieces.length;
    }
  };
  return {
    write: (pieces, last = false) =>
      new Promise((settle) => {
        waiting.push({ pieces, last, settle });
        if (waiting.length > 1) return;
        const flushed: Promise<void> = flush().finally(() => running.delete(flushed));
        running.add(flushed);
      }),
    async idle() {
      while (running.size > 0) await Promise.all(running);
    },
  };
}
