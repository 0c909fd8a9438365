import { afterEach, describe, expect, it } from 'vitest';
import { LinkedLine } from '../support/linked-line.ts';
import { person } from '../support/links.ts';

const worker = person('w', 'worker', ['sms']);
const both = { ...worker, name: 'Ada Lumo/Beno Sarr', shared: true };
const inBrief = /^AK breathing: 1 noisy, or short of breath at rest/;

let line: LinkedLine;
afterEach(() => line.close());
const last = (): string => line.sms.to('w').at(-1) ?? '';

describe('BRIEF and PLAIN', () => {
  it('change the words of the question that is open, and of every one after it', async () => {
    line = await LinkedLine.open([worker]);
    await line.says(worker, 'NEW', 'AK 1982 F');
    expect(last()).not.toMatch(inBrief);
    await line.says(worker, 'BRIEF');
    expect(last()).toMatch(inBrief);
    await line.says(worker, 'PLAIN');
    expect(last()).not.toMatch(inBrief);
  });

  it.each(['BRIEF', 'PLAIN'])('on a shared phone, %s says that its texts stay long', async (word) => {
    line = await LinkedLine.open([both]);
    await line.says(both, word);
    expect(last()).toMatch(/^Several people use this phone, so its texts stay long/);
    await line.says(both, 'NEW', 'AK 1982 F');
    expect(last()).not.toMatch(inBrief);
  });

  it('chosen before a phone was shared counts no more on it', async () => {
    line = await LinkedLine.open([worker]);
    await line.says(worker, 'BRIEF');
    const [kept] = await line.store.roster('tamboro');
    await line.store.putPeople([{ ...kept!, name: both.name, shared: true }]);
    await line.says(worker, 'NEW', 'AK 1982 F');
    expect(last()).not.toMatch(inBrief);
  });

  it("change nobody else's texts", async () => {
    const other = person('v', 'worker', ['sms']);
    line = await LinkedLine.open([worker, other]);
    await line.says(worker, 'BRIEF');
    await line.says(other, 'NEW', 'AK 1982 F');
    expect(line.sms.to('v').at(-1)).not.toMatch(inBrief);
  });

  it('are words alone: a sentence that begins with one changes nothing', async () => {
    line = await LinkedLine.open([worker]);
    await line.says(worker, 'NEW', 'AK 1982 F', 'Brief history of cough');
    expect(last()).not.toMatch(inBrief);
    expect(line.heardBy('w')).not.toMatch(/short texts/);
  });

  it('are no words of a coordinator', async () => {
    const coordinator = person('c', 'coordinator', ['sms']);
    line = await LinkedLine.open([coordinator]);
    await line.says(coordinator, 'BRIEF');
    expect(line.heardBy('c')).not.toMatch(/short texts/);
  });
});
