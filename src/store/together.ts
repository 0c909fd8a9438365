import type { Context } from './context.ts';
import type { Steps } from './statement.ts';

type Work<T> = (context: Context) => Steps<T>;
type Write = <T>(steps: Work<T>) => Promise<T>;

interface Waiting {
  readonly steps: Work<unknown>;
  readonly resolve: (value: unknown) => void;
  readonly reject: (reason: unknown) => void;
}

/**
 * What is written in one turn of the loop becomes durable together: a commit costs the same for one piece as for many.
 * When that fails each piece is written by itself, so that none suffers from another.
 */
export function togetherOn(write: Write): Write {
  let waiting: Waiting[] = [];
  const alone = (one: Waiting): Promise<void> => write(one.steps).then(one.resolve, one.reject);
  const flush = async (): Promise<void> => {
    const pieces = waiting;
    waiting = [];
    if (pieces.length === 1) return alone(pieces[0]!);
    try {
      const values = await write(function* (context) {
        const made: unknown[] = [];
        for (const { steps } of pieces) made.push(yield* steps(context));
        return made;
      });
      for (const [index, { resolve }] of pieces.entries()) resolve(values[index]);
    } catch {
      for (const one of pieces) await alone(one);
    }
  };
  return <T>(steps: Work<T>): Promise<T> =>
    new Promise<T>((resolve, reject) => {
      waiting.push({ steps, resolve: resolve as (value: unknown) => void, reject });
      if (waiting.length === 1) void Promise.resolve().then(flush);
    });
}
