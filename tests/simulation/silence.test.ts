import { describe, expect, it } from 'vitest';
import { forgotten, unheard } from './checks.ts';
import { dayMs, liveMonth, townStart } from './programme.ts';

/** From when on they are silent. */
const silentFrom = townStart + 3 * dayMs;

/** The longest that a case may rest by its own rules: a laboratory's ten days, and one to remind. */
const longestRestMs = 11 * dayMs;

describe('silence stops no case for good', () => {
  it.each([
    ['of one worker', (who: string) => who === 'w1' || who === 'w6'],
    ['of all workers', (who: string) => who.startsWith('w')],
    ['of all doctors at once', (who: string) => who.startsWith('d')],
    ['of the coordinator', (who: string) => who === 'c1'],
    ['of both laboratories', (who: string) => who.startsWith('l')],
  ])(
    '%s',
    async (_, silent) => {
      const { town } = await liveMonth(5, 18, 10, 4, (who, now) => silent(who) && now > silentFrom);
      expect(town.faults).toEqual([]);
      expect(forgotten(town)).toEqual([]);
      expect(unheard(town, longestRestMs)).toEqual([]);
      await town.close();
    },
    55_000,
  );
});
