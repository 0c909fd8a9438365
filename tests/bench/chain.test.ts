import { describe, expect, it } from 'vitest';
import { measureAlarms, measureChain, measureSmall } from './chain.ts';
import { Caller } from './chain-caller.ts';
import { measureStarts } from './start.ts';
import { shortVisit } from './visit.ts';

describe('the whole chain', () => {
  it('answers people at a fixed rate through the real door, each as recorded', async () => {
    const run = await measureChain(shortVisit, 5, 10, 3);
    expect(run).toMatchObject({ rate: 10, people: 5, texts: 30, sent: 30, unanswered: 0, offScript: 0 });
    expect(run.p50Ms).toBeGreaterThan(0);
    expect(run.p99Ms).toBeGreaterThanOrEqual(run.p50Ms);
    expect(run.mostMs).toBeGreaterThanOrEqual(run.p99Ms);
    expect(run.generatorCpuMs).toBeGreaterThan(0);
    if (process.platform === 'linux') expect(run.cpuMs).toBeGreaterThan(0);
  });

  it('brings first aid to who cries while others text', async () => {
    const run = await measureAlarms(shortVisit, 5, 10, 2, 2);
    expect(run).toMatchObject({ rate: 10, alarms: 4, unanswered: 0, beside: { texts: 20, unanswered: 0 } });
    expect(run.p50Ms).toBeGreaterThan(0);
    expect(run.mostMs).toBeGreaterThanOrEqual(run.p99Ms);
  });

  it('is whole on a line that may use little memory, whose log stays within bounds', async () => {
    const { run, startMb, endMb, mostLogBytes } = await measureSmall(shortVisit, 5, 10, 3);
    expect(run).toMatchObject({ texts: 30, unanswered: 0, offScript: 0 });
    if (process.platform === 'linux') expect(Math.max(startMb!, endMb!)).toBeGreaterThan(10);
    expect(mostLogBytes).toBeGreaterThan(0);
    expect(mostLogBytes).toBeLessThan(33_554_432);
  });

  const script = [
    { text: 'NEW', replies: ['Who?'] },
    { text: 'BB 1952 F', replies: ['BB: breathing. 1 noisy', 'BB: more'] },
    { text: '1', replies: [] },
  ];

  it('knows each answer, whoever the patient is, and goes on to the next one when the visit is over', async () => {
    const [caller, sent]: [Caller, string[]] = [new Caller(1, script), []];
    const answering = (...replies: readonly string[]) =>
      caller.say(async (text) => {
        sent.push(text);
        for (const reply of replies) caller.take(reply);
        return 200;
      });
    expect(await answering('Who?')).toMatchObject({ isOnScript: true, isSilent: false });
    expect(await answering('BC: breathing. 1 noisy', 'BC: more')).toMatchObject({ isOnScript: true });
    expect(await answering()).toMatchObject({ isSilent: true });
    await answering('Who?');
    await answering('BF: breathing. 1 noisy', 'BF: more');
    expect(sent).toEqual(['NEW', 'BC 1952 F', '1', 'NEW', 'BF 1952 F']);
  });

  it('counts an answer that was not recorded, and a text that the door refused as one without an answer', async () => {
    const caller = new Caller(0, script);
    const other = await caller.say(async () => {
      caller.take('Unknown number');
      return 200;
    });
    expect(other.isOnScript).toBe(false);
    expect(await caller.say(async () => 503)).toMatchObject({ answeredAt: null, isSilent: false });
  });
});

describe('starts', () => {
  it('are measured against an empty process, and with people stored', async () => {
    const { people, emptyNode, plain, withMany } = await measureStarts(10, 1, 0);
    expect(people).toBe(10);
    for (const { readyMs } of [emptyNode, plain, withMany]) expect(readyMs).toBeGreaterThan(0);
    expect(plain.readyMs).toBeGreaterThan(emptyNode.readyMs);
    if (process.platform === 'linux') expect(withMany.megabytes).toBeGreaterThan(10);
  });
});
