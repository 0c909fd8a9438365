import { afterAll, describe, expect, it } from 'vitest';
import { runs, soak } from '../support/runs.ts';
import { buildChild } from './build-child.ts';
import { runSeed } from './chance.ts';
import { endInOrder, errorsOf } from './checks.ts';
import { Clinic } from './clinic.ts';
import { note } from './figures.ts';

const kills = runs(132, 520);
const clinics = 3;
/** Long enough for every timer and every doubt, too short for reminders of questions. */
const aheadMs = 3 * 3_600_000;

const nodeArguments = buildChild();
const opened: Clinic[] = [];
afterAll(async () => {
  for (const clinic of opened) await clinic.close();
});

describe(`a line that is killed under traffic (CRASH_SEED=${runSeed})`, () => {
  it.concurrent.each(Array.from({ length: clinics }, (_unused, index) => index))(
    'clinic %i: what was answered is kept once, every reply goes out, timers fire once, no code is given twice',
    { timeout: 1_500_000 },
    async (index) => {
      const clinic = new Clinic(nodeArguments, { seed: runSeed + index * 1_000, phones: 8, rate: 60 });
      opened.push(clinic);
      await clinic.prepare();
      clinic.letIn();
      while (clinic.kills < kills / clinics) await clinic.liveAndDie();
      // The last life ends in order.
      const life = clinic.start();
      const found = await endInOrder(clinic, life, aheadMs);
      const wrong = { seed: runSeed, faults: found.faults, logged: errorsOf(clinic) };
      expect(wrong).toEqual({ seed: runSeed, faults: [], logged: [] });
      if (soak) expect(found.codes).toBeGreaterThan(0);
      note({ kills: clinic.kills, ...found, deaths: clinic.deaths });
    },
  );
});
