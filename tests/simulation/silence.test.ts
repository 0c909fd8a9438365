import { describe, expect, it } from 'vitest';
import { runs } from '../support/runs.ts';
import { forgotten, unheard } from './checks.ts';
import { dayMs, liveMonth, townStart } from './programme.ts';

/** From when on they are silent. */
const silentFrom = townStart + 3 * dayMs;

/** The longest that a case may rest by its own rules: a laboratory's ten days, and one to remind. */
const longestRestMs = 11 * dayMs;

const seeds = Array.from({ length: runs(1, 10) }, (_, more) => 5 + more);

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
      for (const seed of seeds) {
        const { town } = await liveMonth(seed, 18, 10, 4, (who, now) => silent(who) && now > silentFrom);
        expect({ seed, faults: town.faults }).toEqual({ seed, faults: [] });
        expect({ seed, forgotten: forgotten(town) }).toEqual({ seed, forgotten: [] });
        expect({ seed, unheard: unheard(town, longestRestMs) }).toEqual({ seed, unheard: [] });
        expect({ seed, sos: await town.sosUnheard() }).toEqual({ seed, sos: [] });
        await town.close();
      }
    },
    runs(300_000, 600_000),
  );
});
