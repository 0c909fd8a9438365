import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { NextEvent } from '../../../src/channels/bench/next-event.ts';
import { dataFolder, eventsOf, type OpenBench, openBench } from './bench-fixture.ts';

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

const answersOn = async (who: string): Promise<number> => (await bench.textsOf(who)).filter((one) => one.out).length;

describe('phone bench', () => {
  it('carries a text to the line and the answer back to the phone, for everybody who watches', async () => {
    const watched = await eventsOf(bench, 'text', 2);
    expect((await bench.say('worker', 'LIST')).json).toMatchObject({ handled: 'done' });
    const [mine, answer] = await watched();
    expect(mine).toMatchObject({ address: 'bench:worker', out: false, text: 'LIST' });
    expect(answer).toMatchObject({ address: 'bench:worker', out: true });
    expect((await bench.textsOf('worker')).map((one) => one.text)).toEqual(['LIST', answer!.text]);
  });

  it('keeps the texts and the time of the line over a restart', async () => {
    await bench.say('worker', 'NEW');
    await bench.post('/clock', { ms: 3_600_000 });
    const [texts, { now }] = [await bench.textsOf('worker'), await bench.state()];
    await bench.close();
    bench = await openBench(folder.path);
    expect(await bench.textsOf('worker')).toEqual(texts);
    expect((await bench.state()).now).toBeGreaterThanOrEqual(now);
    expect((await bench.post('/send', { address: 'bench:worker', again: true })).json).toMatchObject({
      handled: 'duplicate',
    });
  });

  it('delivers a text twice when told to, and the line answers once', async () => {
    await bench.say('worker', 'NEW');
    const before = await answersOn('worker');
    const again = await bench.post('/send', { address: 'bench:worker', again: true });
    await bench.line.settle();
    expect(again.json).toMatchObject({ handled: 'duplicate' });
    expect(await answersOn('worker')).toBe(before);
  });

  it('has nothing to send again from a phone that never wrote', async () => {
    expect((await bench.post('/send', { address: 'bench:lab', again: true })).status).toBe(409);
  });

  it('offers the answers of the last question, and none once it is answered', async () => {
    await bench.say('worker', 'SOS');
    const [asked] = await bench.questionsOf('worker');
    expect(asked!.choices.length).toBeGreaterThan(1);
    await bench.say('worker', asked!.choices[0]!.reply);
    expect(await bench.questionsOf('worker')).toEqual([]);
  });

  it('holds both directions of a phone without net and delivers in order when it is back', async () => {
    await bench.post('/net', { address: 'bench:worker', on: false });
    expect((await bench.say('worker', 'LIST')).json).toMatchObject({ handled: 'held' });
    await bench.say('worker', 'NEW');
    expect((await bench.textsOf('worker')).map(({ text, held }) => [text, held])).toEqual([
      ['LIST', true],
      ['NEW', true],
    ]);
    await bench.post('/net', { address: 'bench:worker', on: true });
    await bench.line.settle();
    const texts = await bench.textsOf('worker');
    expect(texts.filter((one) => !one.out).map(({ text, held }) => [text, held])).toEqual([
      ['LIST', false],
      ['NEW', false],
    ]);
    expect(texts.some((one) => one.out)).toBe(true);
  });

  it('shows no text on a phone whose net is off', async () => {
    await bench.post('/net', { address: 'bench:doctor', on: false });
    await bench.say('worker', 'SOS');
    expect(await answersOn('doctor')).toBe(0);
    await bench.post('/net', { address: 'bench:doctor', on: true });
    expect(await answersOn('doctor')).toBeGreaterThan(0);
  });

  it('shows a text as it was written, whatever is in it', async () => {
    const text = '<img src=x onerror=alert(1)> &amp; "quoted" \u202e';
    await bench.say('worker', text);
    expect((await bench.textsOf('worker'))[0]!.text).toBe(text);
  });

  it('takes a text of 10,000 characters and refuses a longer one', async () => {
    expect((await bench.say('worker', 'x'.repeat(10_000))).status).toBe(200);
    expect((await bench.say('worker', 'x'.repeat(10_001))).status).toBe(400);
  });

  it('tells every page what comes next when that is another thing than before', async () => {
    const told = await eventsOf(bench, 'next', ({ next }) =>
      /has not answered/.test((next as NextEvent | null)?.what ?? ''),
    );
    await bench.say('worker', 'SOS');
    // On a slow machine a page hears of the doctor who is asked in the same instant, too.
    const last = (await told()).at(-1);
    expect(last).toEqual({ next: (await bench.state()).next });
    expect((await bench.state()).next!.what).toMatch(/worker has not answered how the patient is$/);
  });

  it('says of a question that a doctor has answered no longer that the next one is asked', async () => {
    const what = async () => (await bench.state()).next?.what ?? '';
    await bench.say('worker', 'DOCTOR may I go on?');
    await bench.line.settle();
    expect(await what()).toMatch(/no doctor has answered/);
    const [asked] = await bench.questionsOf('doctor');
    await bench.say('doctor', `${asked!.choices[0]!.reply.split(' ')[0]} go on`);
    expect(await what()).not.toMatch(/no doctor has answered/);
  });

  it('gives a page that has its words already all but these', async () => {
    const { words, ...state } = JSON.parse((await bench.call('GET', '/state')).body) as Record<string, unknown>;
    const again = JSON.parse((await bench.call('GET', '/state?words=known')).body) as Record<string, unknown>;
    expect(words).toMatchObject({ 'page-name': 'Neckline' });
    expect({ ...again, now: 0 }).toEqual({ ...state, now: 0 });
  });

  it('is healthy while nothing is late and nothing is parked', async () => {
    const { status, json } = await bench.call('GET', '/health');
    expect(status).toBe(200);
    expect(json).toMatchObject({ ok: true, dueLateMs: 0, outboxLateMs: 0, parked: 0 });
  });
});

describe('clock of the bench', () => {
  it('goes from event to event, each at its own instant: an SOS without answer climbs on the way', async () => {
    await bench.say('worker', 'SOS');
    expect(await answersOn('another-doctor')).toBe(0);
    const from = bench.clock.now();
    // It stops for whoever is newly asked on the way.
    while ((await bench.post('/clock', { ms: 3_600_000 })).json.stoppedFor !== null);
    expect(bench.clock.now()).toBeGreaterThanOrEqual(from + 3_600_000);
    const first = (await bench.textsOf('another-doctor')).find((one) => one.out)!;
    expect(first.at).toBeLessThan(from + 1_800_000);
  });

  it('goes to the next event', async () => {
    const idle = await bench.state();
    await bench.say('worker', 'SOS');
    const due = (await bench.store.nextDueAt())!;
    expect((await bench.post('/clock', { next: true })).json.moved).toBe(true);
    expect(bench.clock.now()).toBeGreaterThanOrEqual(due);
    expect(bench.clock.now()).toBeLessThan(due + 5_000);
    expect(bench.clock.now()).toBeGreaterThan(idle.now);
  });

  it.each([[-1], [0], ['1'], [null], [Number.MAX_SAFE_INTEGER], [undefined]])('does not move by %j', async (ms) => {
    expect((await bench.post('/clock', { ms })).status).toBe(400);
  });

  it('moves once at a time', async () => {
    const far = { ms: 50 * 86_400_000 };
    const both = await Promise.all([bench.post('/clock', far), bench.post('/clock', far)]);
    expect(both.map((one) => one.status).sort()).toEqual([200, 409]);
  });

  it('leaves a long way at its next stop when the line ends', async () => {
    const from = bench.clock.now();
    const moving = bench.post('/clock', { ms: 300 * 86_400_000 }).catch(() => null);
    await new Promise((resolve) => setTimeout(resolve, 300));
    const asked = Date.now();
    await bench.close();
    expect(Date.now() - asked).toBeLessThan(3_000);
    await moving;
    expect(bench.clock.now()).toBeLessThan(from + 100 * 86_400_000);
    bench = await openBench(folder.path);
  });
});
