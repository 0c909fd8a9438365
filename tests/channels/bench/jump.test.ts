import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { packageRoot } from '../../../src/content/load.ts';
import { dataFolder, type OpenBench, openBench } from './bench-fixture.ts';

const minute = 60_000;
const hour = 60 * minute;
let folder: ReturnType<typeof dataFolder>;
let bench: OpenBench;
beforeAll(async () => {
  folder = dataFolder();
  bench = await openBench(folder.path);
});
afterAll(async () => {
  await bench.close();
  folder.remove();
});

const jump = async (ms: number) => (await bench.post('/clock', { ms })).json;
const lastOn = async (who: string): Promise<string> => (await bench.textsOf(who)).findLast((one) => one.out)!.text;

/** What the worker of the package's whole case sends until the patient is watched. */
async function leadToWatch(): Promise<void> {
  const [before = ''] = readFileSync(join(packageRoot, 'flows', 'whole-case.play'), 'utf8').split('\nwait ');
  let code = '';
  for (const [, sent = ''] of before.matchAll(/^w> (.+)$/gm)) {
    await bench.say('worker', sent.replace('{a}{b}', code));
    code =
      /\b(\d{4}) (\d{4})\b/
        .exec(await lastOn('worker'))
        ?.slice(1)
        .join('') ?? code;
  }
}

describe('an hour at once, with a patient who is watched after the needle', () => {
  beforeAll(leadToWatch);

  it('says first what comes next, and whose patient it is', async () => {
    const { next, now } = await bench.state();
    expect(next!.what).toBe('AK: the time in the fixative is over: worker looks at the jar');
    expect(next!.at - now).toBeLessThan(20 * minute);
  });

  it('stops where the jar is asked about: nobody could have answered before', async () => {
    const from = bench.clock.now();
    const { moved, stoppedFor } = await jump(hour);
    expect(moved).toBe(true);
    expect(stoppedFor).toMatchObject({ name: 'worker', address: 'bench:worker', tag: 'AK' });
    expect(bench.clock.now() - from).toBeLessThan(21 * minute);
  });

  it('stops at the neck, and alarms nobody before it was asked about', async () => {
    await bench.say('worker', '1');
    const { stoppedFor, came } = await jump(3 * hour);
    expect(stoppedFor).toMatchObject({ address: 'bench:worker', title: expect.stringContaining('look now') });
    expect(came).toMatchObject([{ address: 'bench:worker', urgent: 0 }]);
    expect(await bench.textsOf('doctor')).toEqual([]);
  });

  it('goes on where whoever was asked did not answer, to the doctor who is alarmed', async () => {
    const from = bench.clock.now();
    const { stoppedFor, came } = await jump(hour);
    expect(stoppedFor).toMatchObject({ address: 'bench:doctor', tag: 'AK' });
    expect(bench.clock.now() - from).toBeLessThan(21 * minute);
    expect(came).toContainEqual(expect.objectContaining({ address: 'bench:coordinator' }));
    expect((await bench.textsOf('doctor')).every((one) => one.urgency === 'now')).toBe(true);
  });

  it('is asked each doctor once: a silent line climbs to its end and the hour passes', async () => {
    expect((await jump(hour)).stoppedFor).toMatchObject({ address: 'bench:another-doctor' });
    const from = bench.clock.now();
    expect((await jump(hour)).stoppedFor).toBeNull();
    expect(bench.clock.now() - from).toBeGreaterThanOrEqual(hour);
  });

  it('stops for nobody whose net is off: nothing was shown there', async () => {
    await bench.post('/net', { address: 'bench:doctor', on: false });
    await bench.say('worker', 'DOCTOR is it all right to go home?');
    await bench.line.settle();
    const { stoppedFor } = await jump(9 * minute);
    expect(stoppedFor).toBeNull();
    await bench.post('/net', { address: 'bench:doctor', on: true });
  });
});
