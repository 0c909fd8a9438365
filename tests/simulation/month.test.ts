import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { runs } from '../support/runs.ts';
import { askedForNothing, floods, forgotten, longestWait, misdirected } from './checks.ts';
import { liveMonth } from './programme.ts';
import type { Town } from './town.ts';

/** The month that every build lives through, `MONTH_SEED` for another; a soak lives through ten more. */
const first = Number(process.env.MONTH_SEED ?? 7);
const seeds = Array.from({ length: runs(1, 11) }, (_, more) => first + more);

/** Patients of a month: more would prove nothing else and take longer. */
const patients = 36;

describe.each(seeds)(
  'thirty days of five sites, twelve workers, three doctors and two laboratories, late, double, wrong and silent (seed %i)',
  (seed) => {
    let town: Town;
    const begun = performance.now();

    beforeAll(async () => {
      ({ town } = await liveMonth(seed, 30, patients, 14));
    }, 300_000);

    afterAll(async () => {
      const outcomes: Record<string, number> = {};
      for (const one of town.cases.values()) {
        const name = one.status === 'closed' ? (one.specimens[0]?.end ?? one.closed ?? 'closed') : one.status;
        outcomes[name] = (outcomes[name] ?? 0) + 1;
      }
      const { messagesIn, messagesOut, segments } = town.figures();
      const wait = longestWait(town);
      console.info(
        [
          `seed ${seed}: ${town.cases.size} cases, ${messagesIn} messages in, ${messagesOut} out (${segments} segments)`,
          `outcomes: ${Object.entries(outcomes)
            .sort((a, b) => b[1] - a[1])
            .map(([name, count]) => `${name} ${count}`)
            .join(', ')}`,
          `worst wait in one status: ${wait.days.toFixed(1)} days (${wait.who})`,
          `machine time: ${((performance.now() - begun) / 1000).toFixed(1)} s`,
        ].join('\n'),
      );
      await town.close();
    });

    it('pass without a text that the line could not handle', () => {
      expect(town.faults).toEqual([]);
      expect(town.cases.size).toBeGreaterThan(patients * 0.8);
    });

    it('end with every case closed, or owned by somebody whom it reminds', () => {
      expect(forgotten(town)).toEqual([]);
      const closed = [...town.cases.values()].filter((one) => one.status === 'closed').length;
      expect(closed).toBeGreaterThan(town.cases.size * 0.7);
    });

    it('send nobody a text about a case in which they have no part', () => {
      expect(misdirected(town)).toEqual([]);
    });

    it('are told nothing that is not so by the record', () => {
      expect(town.ledger.untrue.map(({ line }) => line)).toEqual([]);
    });

    it('ask no doctor about what is over', () => {
      expect(askedForNothing(town)).toEqual([]);
    });

    it('leave nobody whose SOS is not heard', async () => {
      expect(await town.sosUnheard()).toEqual([]);
    });

    it('flood nobody with one and the same question', () => {
      expect(floods(town, 16)).toEqual([]);
    });
  },
);

describe('the same seed', () => {
  it('gives the same transcript, another one another', async () => {
    const told: string[] = [];
    for (const each of [3, 3, 4]) {
      const { town } = await liveMonth(each, 4, 5, 2);
      told.push(town.fingerprint());
      await town.close();
    }
    expect(told[0]).toBe(told[1]);
    expect(told[2]).not.toBe(told[0]);
  }, 300_000);
});
