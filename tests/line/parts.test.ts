import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { LinkedLine } from '../support/linked-line.ts';
import { person } from '../support/links.ts';

const worker = person('w', 'worker', ['sms']);
const doctor = person('d', 'doctor', ['sms']);
const quick = 'NEW AK 1982 F R 22x15x14 solid hypo irregular micro TSH normal felt linear signs 0 risks 0 bleeding 0';
/** Phones cut at 153; where does not matter here, in the middle of a word least of all. */
const [first, second] = [quick.slice(0, 60), quick.slice(60)];

let line: LinkedLine;
beforeEach(async () => {
  line = await LinkedLine.open([worker, doctor]);
});
afterEach(() => line.close());

const heard = (): string => line.heardBy('w');

describe('a long text that the network brings in parts', () => {
  it.each([
    ['in their order', [`42 1/2 ${first}`, `42 2/2 ${second}`]],
    ['the last one first', [`42 2/2 ${second}`, `42 1/2 ${first}`]],
    ['one of them twice', [`42 1/2 ${first}`, `42 1/2 ${first}`, `42 2/2 ${second}`]],
    ['with another text between them', [`42 1/2 ${first}`, `7 1/2 HE`, `42 2/2 ${second}`]],
    ['three of them', [`42 3/3 ${second}`, `42 1/3 ${first.slice(0, 20)}`, `42 2/3 ${first.slice(20)}`]],
  ])('is read once it is whole: %s', async (_how, parts) => {
    await line.hearsParts(worker, ...parts);
    expect(heard()).toMatch(
      /Nothing at: C1 breathing; C2 voice, swallowing, growth; C3 feel of the lump; C4 family, radiation; C5 bleeding/,
    );
    expect(heard()).not.toMatch(/part of your long text was lost/);
  });

  it('names its case by a code in any of them, or over the cut between two', async () => {
    const code = await line.coded(worker);
    const other = person('v', 'worker', ['sms']);
    await line.store.putPeople([other]);
    await line.hearsParts(other, `1 1/2 CASE ${code}`, '1 2/2  she sleeps well');
    await line.hearsParts(other, `2 1/2 CASE ${code.slice(0, 4)}`, `2 2/2 ${code.slice(4)} and eats`);
    expect(line.heardBy('d')).toMatch(/she sleeps well/);
    expect(line.heardBy('d')).toMatch(/and eats/);
    expect(line.heardBy('v')).not.toMatch(/no such|unknown|cannot find/i);
  });

  it('gives the same as the text in one piece', async () => {
    await line.hearsParts(worker, `42 1/2 ${first}`, `42 2/2 ${second}`);
    const whole = await LinkedLine.open([worker, doctor]);
    await whole.says(worker, quick);
    expect(heard()).toBe(whole.heardBy('w'));
    await whole.close();
  });

  it('is waited for without a word, and asked for again when a part stays away', async () => {
    await line.says(worker, 'NEW', 'AK 1982 F');
    const before = heard().length;
    await line.hearsParts(worker, '42 1/2 0');
    await line.later(2);
    expect(heard().length).toBe(before);
    await line.later(2);
    expect(heard().slice(before)).toMatch(/part of your long text was lost.*160 letters.*AK: breathing/s);
    const told = heard().length;
    // Meanwhile it was sent again in other words: what comes now is not read on top of that.
    await line.hearsParts(worker, '42 2/2 1');
    await line.later(10);
    expect(heard().length).toBe(told);
  });

  it('and whose phone counts from the start again is a new one', async () => {
    await line.says(worker, 'NEW', 'AK 1982 F');
    await line.hearsParts(worker, '42 1/2 no answer');
    await line.later(5);
    const before = heard().length;
    await line.hearsParts(worker, '42 1/2 ', '42 2/2 60');
    expect(heard().slice(before)).toMatch(/ask the patient/);
  });

  it('is first aid at once when SOS is read in a part, and the rest of it changes nothing', async () => {
    await line.says(worker, 'NEW', 'AK 1982 F');
    await line.hearsParts(worker, '42 2/3 she bleeds SOS');
    expect(line.heardBy('d')).toMatch(/NOW SOS/);
    const before = heard().length;
    await line.hearsParts(worker, '42 1/3 60', '42 3/3 60');
    await line.later(4);
    expect(heard().slice(before)).not.toMatch(/part of your long text|ask the patient/);
  });

  it('is first aid also when the word is cut by the end of a part', async () => {
    await line.hearsParts(worker, '42 1/2 please help S', '42 2/2 OS');
    expect(line.heardBy('d')).toMatch(/NOW SOS/);
  });

  it('is first aid when the word is cut by the end of a part and the rest of the text never comes', async () => {
    await line.hearsParts(worker, '42 2/4 please help S', '42 3/4 OS now');
    expect(line.heardBy('d')).toMatch(/NOW SOS/);
  });

  it('is no alarm where only parts that are not neighbours would make the word', async () => {
    await line.hearsParts(worker, '42 1/3 she takes S', '42 3/3 OS');
    expect(line.heardBy('d')).not.toMatch(/SOS/);
  });

  it('from a phone that nobody knows gets one answer, and first aid when a part says SOS', async () => {
    const stranger = { ...person('x', 'worker', ['sms']), id: 'x' };
    const to = () => line.sms.asked.filter((one) => one.to.address === stranger.addresses[0]!.address);
    await line.hearsParts(stranger, '7 2/3 dear ', '7 1/3 hello ', '7 3/3 line');
    expect(to()).toHaveLength(1);
    await line.hearsParts(stranger, '8 2/3 SOS');
    expect(to()[1]?.text).toMatch(/BLEEDING or SWELLING: press the place/);
  });

  it('of which a part stayed away while its sender was off the line is not joined with a later one', async () => {
    await line.says(worker, 'NEW', 'AK 1982 F');
    await line.hearsParts(worker, '42 1/2 DOCTOR about the man of March: ');
    await line.says(worker, 'STOP');
    await line.later(3 * 24 * 60);
    await line.says(worker, 'START');
    await line.hearsParts(worker, '42 2/2 bleeds a little', '42 1/2 DOCTOR the woman of today ');
    expect(line.heardBy('d')).not.toMatch(/man of March: bleeds/);
  });

  it('of more parts than are ever read is refused once', async () => {
    await line.hearsParts(worker, ...Array.from({ length: 12 }, (_, index) => `42 ${index + 1}/12 x`));
    expect(heard().match(/too long/g)).toHaveLength(1);
  });

  it('without end leaves no heap of parts behind', async () => {
    for (let reference = 0; reference < 30; reference += 1) await line.hearsParts(worker, `${reference} 1/2 x`);
    await line.later(10);
    expect(heard().match(/part of your long text was lost/g)!.length).toBeLessThanOrEqual(5);
  });

  it('began before the question that is open now: it is no answer to it', async () => {
    await line.says(worker, 'NEW', 'AK 1982 F');
    await line.hearsParts(worker, '42 1/2 9');
    await line.later(1);
    await line.says(worker, '60');
    const before = heard().length;
    await line.hearsParts(worker, '42 2/2 ');
    expect(heard().slice(before)).toMatch(/did not take it as the answer.*ask the patient/s);
  });
});
