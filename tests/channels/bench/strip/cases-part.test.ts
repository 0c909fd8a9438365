import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { CaseStrip } from '../../../../src/channels/bench/strip/strip.ts';
import { dataFolder, eventsOf, type OpenBench, openBench } from '../bench-fixture.ts';

let folder: ReturnType<typeof dataFolder>;
let bench: OpenBench;
beforeEach(async () => {
  folder = dataFolder();
  bench = await openBench(folder.path);
});
afterEach(async () => {
  await bench.close();
  folder.remove();
});

const strips = async (): Promise<readonly CaseStrip[]> =>
  (await bench.call('GET', '/cases')).json as unknown as readonly CaseStrip[];
const nowOf = (strip: CaseStrip | undefined): string | undefined => strip?.steps.find((one) => one.state === 'now')?.id;

describe('the strips of the bench', () => {
  it('are none before there is a patient, and then one a patient, the newest first', async () => {
    expect(await strips()).toEqual([]);
    for (const tag of ['AK', 'BO']) {
      await bench.say('worker', 'NEW');
      await bench.say('worker', `${tag} 1982 F`);
    }
    const [newest, older, ...more] = await strips();
    expect([newest?.tag, older?.tag, more.length]).toEqual(['BO', 'AK', 0]);
    expect(nowOf(newest)).toBe('lump');
    expect(newest?.holder).toEqual({ name: 'worker', role: 'worker' });
  });

  it('are told to every page when a case has moved', async () => {
    const told = await eventsOf(bench, 'cases', 1);
    await bench.say('worker', 'NEW');
    await bench.say('worker', 'AK 1982 F');
    const [first] = (await told()) as unknown as readonly (readonly CaseStrip[])[];
    expect(first?.map((one) => one.tag)).toEqual(['AK']);
  });

  it('show a doctor whose turn it is, until which minute, and who is next', async () => {
    await bench.say('worker', 'NEW');
    await bench.say('worker', 'AK 1982 F');
    await bench.say('worker', 'SOS');
    const [strip] = await strips();
    expect(strip?.holder?.role).toMatch(/doctor|worker/);
    await bench.post('/clock', { ms: 180_000 });
    const [later] = await strips();
    expect(later?.holder).toEqual({ name: 'doctor', role: 'doctor' });
    expect(later?.ifNobody).toContain('another-doctor is asked too');
  });
});
