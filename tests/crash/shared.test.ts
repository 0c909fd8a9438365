import { afterAll, describe, expect, it } from 'vitest';
import { serverPrograms, startServer } from '../store/postgres-server.ts';
import { soak } from '../support/runs.ts';
import { buildChild } from './build-child.ts';
import { runSeed } from './chance.ts';
import { endInOrder, errorsOf } from './checks.ts';
import { Clinic } from './clinic.ts';
import { note } from './figures.ts';

const programs = serverPrograms();
const lines = 3;
/** Texts that the line answered, at least; in a soak the lives are longer, so that there are more texts than deaths. */
const { texts, phones, longLives } = soak
  ? { texts: Number(process.env.CRASH_TEXTS ?? 200_000), phones: 80, longLives: 60 }
  : { texts: 90, phones: 8, longLives: 4 };
/** Long enough for every timer and every doubt, too short for reminders of questions. */
const aheadMs = 3 * 3_600_000;

const opened: Clinic[] = [];
afterAll(async () => {
  for (const clinic of opened) await clinic.close();
});

describe.skipIf(programs === null)(`lines that share a server and are killed (CRASH_SEED=${runSeed})`, () => {
  it('lose and double nothing: what one took another goes on with', { timeout: 7_200_000 }, async () => {
    const server = await startServer(programs!, { durable: true });
    try {
      const options = { seed: runSeed, phones, rate: 60, url: server.fresh(), longLives };
      const clinic = new Clinic(buildChild(), options);
      opened.push(clinic);
      await clinic.prepare();
      clinic.letIn();
      await Promise.all(
        Array.from({ length: lines }, async () => {
          while (clinic.answered < texts) await clinic.liveAndDie();
        }),
      );
      // What the last one took is left for one that begins before the other's time is over.
      const last = clinic.start();
      clinic.gateway.manner = () => 'hang';
      while ((await clinic.onTheirWay()).length === 0) await new Promise((resolve) => setTimeout(resolve, 20));
      last.kill();
      await last.ended;
      await clinic.afterDeath(last, 'with texts on their way');
      clinic.gateway.manner = () => 'take';
      const life = clinic.start();
      const found = await endInOrder(clinic, life, aheadMs);
      const wrong = { seed: runSeed, faults: found.faults, logged: errorsOf(clinic) };
      expect(wrong).toEqual({ seed: runSeed, faults: [], logged: [] });
      note({ kills: clinic.kills, ...found, deaths: clinic.deaths });
      await clinic.close();
    } finally {
      server.stop();
    }
  });
});
