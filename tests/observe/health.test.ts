import { describe, expect, it } from 'vitest';
import type { Parked, Store } from '../../src/line/ports.ts';
import { healthOf, lateAtMostMs } from '../../src/observe/health.ts';

const now = Date.UTC(2030, 2, 4, 8);
const askedOf = (dueAt: number | null, outAt: number | null, parked: number) =>
  healthOf(
    {
      nextDueAt: async () => dueAt,
      nextOutboxAt: async () => outAt,
      parked: async () => Array.from({ length: parked }, () => ({}) as Parked),
    } as Partial<Store> as Store,
    { now: () => now },
  );

describe('health', () => {
  it.each([
    ['nothing waits', null, null, 0, true],
    ['all is still to come', now + 1, now + 1, 0, true],
    ['something is due for a moment', now - 1000, now - 1000, 0, true],
    ['a due row is late', now - lateAtMostMs - 1, null, 0, false],
    ['a text is late', null, now - lateAtMostMs - 1, 0, false],
    ['an event waits for a human', null, null, 1, false],
  ])('%s', async (_what, dueAt, outAt, parked, ok) => {
    expect(await askedOf(dueAt, outAt, parked)).toMatchObject({ ok, parked });
  });
});
