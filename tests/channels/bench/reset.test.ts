import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { openBenchLine } from '../../../src/cli/bench-line.ts';
import type { Settings } from '../../../src/config.ts';
import { localTime } from '../../../src/conversation/schedule.ts';
import { shipped } from '../../support/shipped.ts';
import { dataFolder, eventsOf, type ServedBench, serveBench } from './bench-fixture.ts';
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

const hereNow = async () => localTime((await bench.state()).now, shipped.programme.zone);

describe('a bench that is opened for the first time', () => {
  it('begins on a working morning, whenever that is', async () => {
    const { hour, minute, weekday } = await hereNow();
    expect([hour, minute < 5, weekday < 6]).toEqual([9, true, true]);
  });

  it('shows invented numbers that cannot be dialled, and no name of the bench as one', async () => {
    await bench.post('/send', { address: 'bench:worker', text: 'SOS' });
    await bench.settle();
    const { people } = await bench.state();
    const numbers = people.map((one) => one.number);
    expect(new Set(numbers).size).toBe(people.length);
    expect(numbers.every((one) => /^\+000555010\d{3}$/.test(one))).toBe(true);
    const texts = people.flatMap((one) => one.texts.map(({ text }) => text)).join('\n');
    expect(texts).toContain('call +000 555 010 000');
    expect(texts).toContain(`Ada Lumo ${numbers[0]}`);
    expect(texts).not.toContain('bench:');
  });

  it('counts what each phone sent and got, with the price of the programme', async () => {
    const { people, price } = await bench.state();
    const { texts, cost } = people.find((one) => one.address === 'bench:worker')!;
    const got = texts.filter((one) => one.out).length;
    expect(cost).toMatchObject({ sentTexts: 1, sentSegments: 1, gotTexts: got });
    expect(cost.gotSegments).toBeGreaterThanOrEqual(got);
    expect(price).toEqual(shipped.programme.price);
  });
});

describe('a bench that is reset', () => {
  it('tells every page, and has nothing of anybody any more', async () => {
    await bench.post('/clock', { ms: 60_000 });
    const key = readFileSync(join(folder.path, 'neckline.key'));
    const roster = join(folder.path, 'demo', 'roster.csv');
    writeFileSync(roster, readFileSync(roster, 'utf8').replace('Ada Lumo', 'Ada Lumoru'));
    const told = await eventsOf(bench, 'reset', 1);
    const { status, json } = await bench.post('/reset', {});
    expect(status).toBe(200);
    expect(await told()).toEqual([{ now: expect.any(Number) }]);
    expect(json.now).toBeTypeOf('number');
    const { people } = await bench.state();
    expect(people.flatMap((one) => [...one.questions, ...one.texts.filter(({ text }) => /SOS/.test(text))])).toEqual(
      [],
    );
    // What was changed by hand stays, and so does the key.
    expect(people[0]!.name).toBe('Ada Lumoru');
    expect(readFileSync(join(folder.path, 'neckline.key'))).toEqual(key);
  });

  it('begins on a working morning again, and works', async () => {
    const { hour, minute } = await hereNow();
    expect([hour, minute < 5]).toEqual([9, true]);
    expect((await bench.post('/send', { address: 'bench:worker', text: 'NEW' })).json).toMatchObject({
      handled: 'done',
    });
    await bench.settle();
    expect((await bench.textsOf('worker')).map((one) => one.out)).toEqual([false, true]);
  });

  it('ends a move of the clock that is under way, and loses nothing of what comes after', async () => {
    const moving = bench.post('/clock', { ms: 300 * 86_400_000 });
    const [, second] = await Promise.all([bench.post('/reset', {}), bench.post('/reset', {})]);
    expect((await moving).status).toBe(200);
    expect(second.status).toBe(200);
    expect((await hereNow()).hour).toBe(9);
    expect(existsSync(join(folder.path, 'neckline.db'))).toBe(true);
  });
});

describe('a bench that could not begin anew', () => {
  it('says so until it could', async () => {
    const full = dataFolder();
    const setting = {
      given: { stderr: { write: () => true } },
      settings: { NECKLINE_DATA: full.path } as Settings,
      content: shipped,
      log: { write: () => undefined },
    };
    let running = await openBenchLine(setting);
    let tries = 0;
    const renew = async () => {
      await running.close();
      tries += 1;
      if (tries === 1) throw new Error('no room');
      running = await openBenchLine(setting);
      return running;
    };
    const on = await serveBench(running, { renew, close: () => running.close() });
    expect((await on.post('/reset', {})).status).toBe(500);
    const { status, json } = await on.call('GET', '/state');
    expect([status, json.error]).toEqual([503, expect.stringContaining('once more')]);
    expect((await on.post('/reset', {})).status).toBe(200);
    expect((await on.call('GET', '/state')).status).toBe(200);
    await on.close();
    full.remove();
  });
});

describe('a bench whose data are elsewhere', () => {
  it('says that it cannot empty them', async () => {
    const other = dataFolder();
    const running = await openBenchLine({
      given: { stderr: { write: () => true } },
      settings: { NECKLINE_DATA: other.path } as Settings,
      content: shipped,
      log: { write: () => undefined },
    });
    const on = await serveBench(running, { close: () => running.close() });
    const { status, json } = await on.post('/reset', {});
    expect([status, json.error]).toEqual([409, expect.stringContaining('database server')]);
    await on.close();
    other.remove();
  });
});
