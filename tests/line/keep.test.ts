import { beforeEach, describe, expect, it } from 'vitest';
import { seededRandom } from '../../src/cli/player.ts';
import { durationOf } from '../../src/conversation/programme.ts';
import type { Handler } from '../../src/line/handle.ts';
import { Keeper } from '../../src/line/keep.ts';
import type { Store } from '../../src/line/ports.ts';
import { shipped } from '../support/shipped.ts';

const { programme } = shipped;
const hour = 3_600_000;
const day = 24 * hour;

/** A line with `kept` cases of which the first `overdue` are past their time, on clocks that the test moves. */
function keeperWith(kept: number, overdue: number) {
  const clock = { wall: Date.UTC(2030, 2, 4, 8), steady: 0 };
  const cases = Array.from({ length: overdue }, (_unused, index) => `c${index}`);
  const marks = new Map<string, string>();
  const seen = {
    erased: [] as string[],
    asked: [] as number[],
    textsBefore: [] as number[],
    told: [] as string[],
    scrubs: [] as string[],
  };
  const scrubs: ('gone' | 'held')[] = [];
  let broken = false;
  const keeper = new Keeper({
    programme,
    programmeId: programme.id,
    clock: { now: () => clock.wall },
    steady: () => clock.steady,
    random: seededRandom(1),
    log: { write: () => undefined },
    store: {
      mark: async (name: string) => marks.get(name) ?? null,
      setMark: async (name: string, value: string) => void marks.set(name, value),
    } as Partial<Store> as Store,
    handler: {
      handle: async (event: { due: { what: { key: string } } }) => {
        seen.told.push(event.due.what.key);
        return 'done';
      },
    } as unknown as Handler,
    keeping: {
      dailyHead: async () => null,
      overdueCases: async (_programmeId, before) => {
        seen.asked.push(before);
        return { ids: [...cases], kept };
      },
      eraseCase: async (id) => {
        if (broken) throw new Error('disk');
        seen.erased.push(id);
        cases.splice(cases.indexOf(id), 1);
        return true;
      },
      scrub: async () => {
        seen.scrubs.push(scrubs[0] ?? 'gone');
        return scrubs.shift() ?? 'gone';
      },
      dropTexts: async (before) => {
        seen.textsBefore.push(before);
        return 0;
      },
    },
  });
  return {
    seen,
    /** What the next tries to take away what was erased come to. */
    scrubsTo: (...next: ('gone' | 'held')[]) => scrubs.push(...next),
    breakStore: (now: boolean) => {
      broken = now;
    },
    /** Time passes; a clock that is set as well jumps by `jumpMs`. */
    async after(ms: number, jumpMs = 0) {
      clock.steady += ms;
      clock.wall += ms + jumpMs;
      await keeper.look();
    },
  };
}

describe('keeping', () => {
  let line: ReturnType<typeof keeperWith>;
  beforeEach(async () => {
    line = keeperWith(100, 5);
    await line.after(0);
  });

  it('takes nothing in the first 24 hours after a start, then what is past its time', async () => {
    await line.after(day - 1);
    expect(line.seen.asked).toEqual([]);
    await line.after(1);
    expect(line.seen.erased).toHaveLength(5);
    const now = Date.UTC(2030, 2, 4, 8) + day;
    expect(line.seen.asked).toEqual([now - durationOf(programme, 'keep-closed')]);
    expect(line.seen.textsBefore).toEqual([now - durationOf(programme, 'keep-texts')]);
    expect(line.seen.told).toEqual([]);
  });

  it.each([
    ['forward', 10 * 365 * day],
    ['back', -2 * hour],
  ])('waits 24 hours more when the clock jumps %s', async (_way, jump) => {
    await line.after(23 * hour);
    await line.after(hour - 1, jump);
    await line.after(hour);
    expect(line.seen.erased).toEqual([]);
    await line.after(23 * hour);
    expect(line.seen.erased).toHaveLength(5);
  });

  it('a clock that drifts by seconds is no jump', async () => {
    for (let turn = 0; turn < 24; turn += 1) await line.after(hour, 30_000);
    expect(line.seen.erased).toHaveLength(5);
  });

  it('looks once a day', async () => {
    await line.after(day);
    await line.after(hour);
    expect(line.seen.asked).toHaveLength(1);
    await line.after(23 * hour);
    expect(line.seen.asked).toHaveLength(2);
  });

  it('more than five in a hundred: none goes, and the coordinators hear it once', async () => {
    line = keeperWith(100, 6);
    await line.after(0);
    await line.after(day);
    await line.after(day);
    expect(line.seen.erased).toEqual([]);
    expect(line.seen.told).toEqual(['retention-held']);
  });

  it('one case of a small programme may go', async () => {
    line = keeperWith(3, 1);
    await line.after(0);
    await line.after(day);
    expect(line.seen.erased).toEqual(['c0']);
  });

  it('what was erased is taken out of the files at the start, after each sweep, and again while somebody reads', async () => {
    expect(line.seen.scrubs).toEqual(['gone']);
    line.scrubsTo('held', 'held', 'gone');
    await line.after(day);
    expect([line.seen.erased.length, line.seen.scrubs]).toEqual([5, ['gone', 'held']]);
    await line.after(hour);
    await line.after(hour);
    await line.after(hour);
    expect(line.seen.scrubs).toEqual(['gone', 'held', 'held', 'gone']);
  });

  it('what a fault left is taken with the next look', async () => {
    line.breakStore(true);
    await expect(line.after(day)).rejects.toThrow('disk');
    line.breakStore(false);
    await line.after(hour);
    expect(line.seen.erased).toHaveLength(5);
  });
});
