import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { ScenarioState } from '../../../src/channels/bench/training/shown.ts';
import { dataFolder, eventsOf, type ServedBench } from './bench-fixture.ts';
import { openOwn } from './own-bench.ts';

let folder: ReturnType<typeof dataFolder>;
let bench: ServedBench;
beforeAll(async () => {
  folder = dataFolder();
  bench = await openOwn(folder.path);
});
afterAll(async () => {
  await bench.close();
  folder.remove();
});

const played = async (): Promise<ScenarioState> =>
  (await bench.call('GET', '/scenario')).json as unknown as ScenarioState;
const begin = async (id: string): Promise<ScenarioState> =>
  (await bench.post('/scenario/begin', { id })).json as unknown as ScenarioState;

describe('cases to practise on the bench', () => {
  it('are listed with their titles, the first one guided', async () => {
    const list = JSON.parse((await bench.call('GET', '/scenarios')).body) as { id: string; guided: boolean }[];
    expect(list.length).toBeGreaterThanOrEqual(9);
    expect(list[0]).toMatchObject({ id: 'straight', guided: true, part: 'worker' });
  });

  it('begin in the morning on empty phones, with a card, a drawn lump and the first step', async () => {
    await bench.say('worker', 'NEW');
    const state = await begin('straight');
    expect(state).toMatchObject({ you: 'bench:worker', next: { send: 'NEW', address: 'bench:worker' }, done: 0 });
    expect(state.card.picture).toContain('<svg');
    expect(state.card.lines.join(' ')).not.toMatch(/[{}]/);
    expect((await bench.textsOf('worker')).filter(({ out }) => !out)).toEqual([]);
  });

  it('go on with what is typed on the phone and with what is sent for the learner alike, and every page hears of it', async () => {
    await begin('straight');
    const told = await eventsOf(bench, 'scenario', 1);
    await bench.say('worker', 'NEW');
    expect((await played()).next?.send).toBe('AK 1982 F');
    await bench.post('/scenario/auto', { step: true });
    await bench.settle();
    expect((await played()).done).toBe(2);
    expect((await told()).length).toBeGreaterThan(0);
  });

  it('end with a report that names what never came, which is put away afterwards', async () => {
    await begin('silent-doctor');
    await bench.say('worker', 'NEW');
    const ended = (await bench.post('/scenario/end', {})).json as unknown as ScenarioState;
    expect(ended.report).toMatchObject({ right: 1, late: 0, missed: 4 });
    await bench.post('/scenario/end', {});
    expect((await bench.call('GET', '/scenario')).body).toBe('null');
  });

  it('the second doctor answers by herself when the clock comes to it, and the page says that this comes next', async () => {
    await begin('silent-doctor');
    for (const text of ['NEW', 'EK 1959 F', '1']) await bench.say('worker', text);
    await bench.post('/scenario/auto', { step: true });
    // Five minutes until she is asked, two until she answers.
    await bench.post('/clock', { next: true });
    expect((await bench.state()).next?.what).toBe('Dr Imre answers');
    await bench.post('/clock', { next: true });
    const answers = (await bench.textsOf('doctor2')).filter(({ out }) => !out);
    expect(answers.map(({ text }) => text)).toEqual([expect.stringMatching(/^\d\d 2$/)]);
  });

  it('the second doctor leaves the answer to whoever plays her too, where the others do not answer by themselves', async () => {
    await begin('silent-doctor');
    await bench.post('/scenario/auto', { on: false });
    for (const text of ['NEW', 'EK 1959 F', '1']) await bench.say('worker', text);
    await bench.post('/scenario/auto', { step: true });
    await bench.post('/clock', { next: true });
    expect((await bench.state()).next?.what).not.toBe('Dr Imre answers');
    await bench.post('/clock', { ms: 5 * 60_000 });
    expect((await bench.textsOf('doctor2')).filter(({ out }) => !out)).toEqual([]);
    const [asked] = await bench.questionsOf('doctor2');
    await bench.say('doctor2', asked!.choices[1]!.reply);
    expect((await bench.post('/scenario/auto', { on: true })).status).toBe(200);
  });

  it('a case that nobody knows is refused, and what was on the phones stays', async () => {
    await bench.say('worker', 'NEW');
    expect((await bench.post('/scenario/begin', { id: 'none' })).status).toBe(404);
    expect((await bench.textsOf('worker')).length).toBeGreaterThan(0);
  });
});
