import { describe, expect, it } from 'vitest';
import type { Context } from '../../src/store/context.ts';
import type { Steps } from '../../src/store/statement.ts';
import { togetherOn } from '../../src/store/together.ts';

// biome-ignore lint/correctness/useYield: ends without a statement
function* giving<T>(value: T): Steps<T> {
  if (value instanceof Error) throw value;
  return value;
}

/** Runs pieces without a database, and counts the commits. */
function counted() {
  const count = { commits: 0 };
  const together = togetherOn(async <T>(steps: (context: Context) => Steps<T>) => {
    count.commits += 1;
    const ended = steps({} as Context).next();
    return ended.value as T;
  });
  return { count, together };
}

describe('what is settled, reported and claimed in one turn', () => {
  it('is one commit, and the next turn is another', async () => {
    const { count, together } = counted();
    expect(await Promise.all([1, 2, 3].map((value) => together(() => giving(value))))).toEqual([1, 2, 3]);
    expect(count.commits).toBe(1);
    expect(await together(() => giving(4))).toBe(4);
    expect(count.commits).toBe(2);
  });

  it('does not suffer from one piece that cannot be written', async () => {
    const { together } = counted();
    const results = await Promise.allSettled(['a', new Error('no'), 'b'].map((value) => together(() => giving(value))));
    expect(results.map((one) => one.status)).toEqual(['fulfilled', 'rejected', 'fulfilled']);
  });
});
