import { afterEach, describe, expect, it } from 'vitest';
import { LinkedLine } from '../support/linked-line.ts';
import { person } from '../support/links.ts';
import { shipped } from '../support/shipped.ts';

const worker = person('w', 'worker', ['sms']);
const doctor = person('d', 'doctor', ['telegram']);
const coordinator = person('c', 'coordinator', ['sms']);
const sentence = 'Begin each text to me with NECK, SOS too.';

let line: LinkedLine;
afterEach(() => line.close());

const open = async (keyword?: string): Promise<void> => {
  const content = { ...shipped, programme: { ...shipped.programme, keyword } };
  line = await LinkedLine.open([worker, doctor, coordinator], { content });
};

describe('a number that several services share', () => {
  it('whoever asks what to send hears the word that goes in front, on SMS only', async () => {
    await open('NECK');
    await line.says(worker, '?');
    expect(line.heardBy('w')).toContain(sentence);
    await line.says(worker, 'NEW', '?');
    expect(line.heardBy('w').split(sentence)).toHaveLength(3);
    await line.says(doctor, '?');
    expect(line.heardBy('d')).toMatch(/LIST/);
    expect(line.heardBy('d')).not.toContain('NECK');
  });

  it('whoever is invited and joins hears it before the first answer', async () => {
    await open('NECK');
    await line.says(coordinator, 'ADD worker +000555010042 oruma Nia Bok');
    const [, challenge] = /Right: send (\d{4})/.exec(line.heardBy('c')) ?? [];
    await line.says(coordinator, `${challenge}`);
    const invited = line.sms.asked.filter((one) => one.to.address === '+000555010042').map((one) => one.text);
    expect(invited.join('\n')).toMatch(/Send JOIN \d{6}/);
    expect(invited.join('\n')).toContain(sentence);
    const [, number] = /JOIN (\d{6})/.exec(invited.join('\n')) ?? [];
    const before = line.sms.asked.length;
    await line.hears({ channel: 'sms', address: '+000555010042' }, `JOIN ${number}`);
    const first = line.sms.asked.slice(before).map((one) => one.text);
    expect(first[0]).toContain(sentence);
    expect(first.join('\n')).toMatch(/PRACTICE/);
  });

  it('without such a word nobody hears of one', async () => {
    await open();
    await line.says(worker, '?');
    expect(line.heardBy('w')).not.toContain('Begin each text');
  });
});
