import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { dataFolder, type OpenBench, openBench, type Question } from './bench-fixture.ts';

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

const choicesOf = ({ choices }: Question): string[] => choices.map(({ reply, label }) => `${reply} ${label}`);
const lastOn = async (who: string): Promise<string> => (await bench.textsOf(who)).findLast((one) => one.out)!.text;

describe('the open questions of a phone', () => {
  it('offer what their text says to whoever reads it', async () => {
    await bench.say('worker', 'NEW');
    await bench.say('worker', 'AK 1982 F');
    const [asked] = await bench.questionsOf('worker');
    expect(asked).toMatchObject({ tag: 'AK', title: 'AK: breathing.', several: true });
    expect(choicesOf(asked!)).toContain('60 breathes well');
    expect(await lastOn('worker')).toContain('60 breathes well');
  });

  it('name their patient in the answer where several are in hand', async () => {
    await bench.say('worker', 'NEW');
    await bench.say('worker', 'BL 1990 M');
    const both = await bench.questionsOf('worker');
    expect(both.map((one) => one.tag)).toEqual(['BL', 'AK']);
    const breathes = both[1]!.choices.find((one) => one.label === 'breathes well')!;
    expect(breathes.reply).toBe('AK 60');
    await bench.say('worker', breathes.reply);
    const after = await bench.questionsOf('worker');
    expect(after.map((one) => one.title)).toEqual([expect.stringMatching(/^AK: ask/), 'BL: breathing.']);
  });

  it('stand side by side, each in the words of the doctor and with its own number', async () => {
    await bench.say('worker', 'DOCTOR may the patient drink?');
    await bench.say('worker', 'SOS');
    const asked = await bench.questionsOf('doctor');
    expect(asked.map((one) => one.title.replace(/\d+/, ''))).toEqual(['Q AK: SOS', 'Q AK: the clinic asks you']);
    const [sos = [], words = []] = asked.map(choicesOf);
    const [q] = /\d+/.exec(asked[0]!.title)!;
    expect(sos).toEqual([`${q} 1 I phone the clinic`, `${q} 2 hospital now`]);
    expect(words).toEqual([expect.stringMatching(/^\d\d 1 the clinic phones me$/)]);
  });

  it('are there after a restart, with the same answers', async () => {
    const before = [await bench.questionsOf('worker'), await bench.questionsOf('doctor')];
    await bench.close();
    bench = await openBench(folder.path);
    expect([await bench.questionsOf('worker'), await bench.questionsOf('doctor')]).toEqual(before);
    expect(before.flat().length).toBeGreaterThan(2);
  });

  it('are answered as they are offered, the older one too', async () => {
    const older = (await bench.questionsOf('doctor'))[1]!;
    await bench.say('doctor', older.choices[0]!.reply);
    expect(await lastOn('doctor')).toMatch(/noted/);
    const [sos] = await bench.questionsOf('doctor');
    await bench.say('doctor', sos!.choices[1]!.reply);
    expect((await bench.questionsOf('doctor')).map((one) => one.title)).not.toContain(sos!.title);
  });

  it('are none where their text did not arrive', async () => {
    await bench.post('/net', { address: 'bench:doctor', on: false });
    const before = (await bench.questionsOf('doctor')).length;
    await bench.say('worker', 'DOCTOR and now?');
    expect(await bench.questionsOf('doctor')).toHaveLength(before);
    await bench.post('/net', { address: 'bench:doctor', on: true });
    expect((await bench.questionsOf('doctor')).length).toBeGreaterThan(before);
  });
});
