import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { ShownDecision } from '../../../src/channels/bench/decision-part.ts';
import { shipped } from '../../support/shipped.ts';
import { dataFolder, type OpenBench, openBench } from './bench-fixture.ts';

const folder = dataFolder();
let bench: OpenBench;
beforeAll(async () => {
  bench = await openBench(folder.path);
});
afterAll(async () => {
  await bench.close();
  folder.remove();
});

const decision = (caseId: string) => bench.call('GET', `/decision?case=${encodeURIComponent(caseId)}`);

describe('the decision of a case, asked for by the page', () => {
  it('needs a case that is there', async () => {
    expect((await bench.call('GET', '/decision')).status).toBe(400);
    expect((await decision('nobody')).status).toBe(404);
  });

  it('is drawn from what was answered until now, and anew after the next answer', async () => {
    for (const text of ['NEW', 'AK 1980 F', '60', '70', '80']) await bench.say('worker', text);
    const { id: programmeId, sites } = shipped.programme;
    const [of] = await bench.store.casesAlike(programmeId, { siteId: sites[0]!.id, initials: 'AK', sex: 'female' });
    const caseId = of!.value.id;
    const shown = async () => (await decision(caseId)).json as unknown as ShownDecision;
    const before = await shown();
    expect(before).toMatchObject({ caseId, decision: 'examine-first', nodules: [] });
    expect(before.because.join()).not.toContain('because-');
    expect(before.changes.map(({ to }) => to)).toContain('EMERGENCY, hospital now');
    await bench.say('worker', '1');
    const after = await shown();
    expect(after.tag).toBe(before.tag);
    expect(after.because).not.toEqual(before.because);
  });
});
