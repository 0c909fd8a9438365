import { afterEach, describe, expect, it } from 'vitest';
import type { Content } from '../../src/content/load.ts';
import { LinkedLine } from '../support/linked-line.ts';
import { person } from '../support/links.ts';
import { shipped as refused } from '../support/shipped.ts';

const allowed: Content = { ...refused, programme: { ...refused.programme, pictures: 'to-doctor' } };
const worker = person('w', 'worker', ['telegram']);
const seer = { ...person('s', 'doctor', ['telegram', 'sms']), rank: 2 };
const plain = { ...person('p', 'doctor', ['sms']), rank: 1 };
const both = person('w', 'worker', ['sms', 'telegram']);

let line: LinkedLine;
afterEach(() => line.close());

const open = async (content = allowed, people = [worker, plain, seer]): Promise<void> => {
  line = await LinkedLine.open(people, { content });
  await line.says(people[0]!, 'NEW', 'AK 1982 F');
};

/** Photos that a doctor was shown, with the words under them. */
const shown = (id: string): readonly (readonly [string | undefined, string])[] =>
  line.telegram.asked.filter((one) => one.personId === id && one.picture).map((one) => [one.picture, one.text]);
const last = (id: string): string => line.telegram.to(id).at(-1) ?? '';

describe('a photo of a worker', () => {
  it('is refused with a reason, and the open question comes again', async () => {
    await open(refused);
    const before = line.telegram.to('w').length;
    await line.shows(worker, 'look at this', ['f1']);
    const heard = line.telegram.to('w').slice(before).join('\n');
    expect(heard).toMatch(/take no pictures here: no picture of a patient may lie on a phone.*AK: breathing/s);
    expect(line.heardBy('s') + line.heardBy('p')).toBe('');
  });

  it('is refused once for an album', async () => {
    await open(refused);
    const before = line.telegram.to('w').length;
    await line.shows(worker, '', ['f1', 'f2', 'f3'], '777');
    expect(
      line.telegram
        .to('w')
        .slice(before)
        .join('\n')
        .match(/take no pictures/g),
    ).toHaveLength(1);
  });

  it('with SOS under it raises the alarm', async () => {
    await open(refused);
    await line.shows(worker, 'SOS', ['f1']);
    expect(last('w')).toMatch(/or is it one of these\? 4 the voice/);
    expect(line.sms.to('p').join()).toMatch(/NOW SOS/);
  });

  it('where the programme allows it goes to the first doctor who can see it, with the words as a question', async () => {
    await open();
    await line.shows(worker, 'is this edge smooth?', ['f1']);
    const [photo, question] = line.telegram.asked.filter((one) => one.personId === 's');
    const tag = /^Q(\d\d) AK: Person w: "is this edge smooth\?"/.exec(photo!.text)?.[1];
    expect(photo).toMatchObject({ picture: 'f1', to: { channel: 'telegram' }, hereOnly: true });
    expect(question!.text).toMatch(
      new RegExp(`^Q${tag} ASKS AK.*"is this edge smooth\\?"\\..*send ${tag} 1: the clinic phones me`, 's'),
    );
    expect(line.sms.to('p')).toEqual([]);
    const heard = line.telegram.to('w').join('\n');
    expect(heard).toMatch(/AK: Person s is asked and sees your picture\. .*no answer is not a yes/s);
    expect(heard).toMatch(/no face and no name in a picture\. Delete it/);
    expect(last('w')).toMatch(/AK: breathing/);
    await line.says(seer, `${tag} no, jagged at the lower left`);
    expect(line.telegram.to('w').join('\n')).toMatch(/AK.*no, jagged at the lower left/);
  });

  it('without words asks to look at it', async () => {
    await open();
    await line.shows(worker, '', ['f1']);
    expect(shown('s')).toEqual([['f1', expect.stringMatching(/"please look at my picture"/)]]);
  });

  it('and the next ones go with the same question, each once, until they are enough', async () => {
    await open();
    await line.shows(worker, 'how big?', ['f1', 'f2', 'f3', 'f4', 'f5'], '777');
    expect(shown('s').map(([file]) => file)).toEqual(['f1', 'f2', 'f3', 'f4']);
    expect(last('w')).toMatch(/AK: breathing/);
    expect(line.telegram.to('w').join('\n')).toMatch(
      /AK: one question can have 4 pictures, so this one went to nobody/,
    );
    expect(line.telegram.to('s').filter((one) => / ASKS /.test(one))).toHaveLength(1);
  });

  it('goes with a question that was asked in words before, to a doctor who can see it', async () => {
    await open();
    await line.says(worker, 'DOCTOR how big is too big');
    expect(line.sms.to('p').join()).toMatch(/ASKS AK/);
    await line.shows(worker, 'this one', ['f1']);
    expect(line.sms.to('p').at(-1)).toMatch(/AK: Person w sent a picture that SMS cannot show: "this one"/);
    expect(shown('s')).toHaveLength(1);
    expect(line.telegram.to('s').join('\n')).toMatch(/ASKS AK.*how big is too big/);
    expect(line.telegram.to('w').join('\n')).toMatch(/AK: Person s sees your picture with your open question/);
  });

  it('is shown anew to the next doctor when the question climbs, and said where it cannot be', async () => {
    await open(allowed, [worker, { ...seer, rank: 1 }, { ...plain, rank: 2 }]);
    await line.shows(worker, 'how big?', ['f1']);
    await line.later(24 * 60);
    expect(line.sms.to('p').join('\n')).toMatch(/sent a picture that SMS cannot show: "how big\?".*ASKS AK/s);
    expect(shown('s')).toHaveLength(1);
  });

  it('of a doctor on both is shown by Telegram, wherever the question goes', async () => {
    const twice = { ...person('s', 'doctor', ['sms', 'telegram']), rank: 1 };
    await open(allowed, [worker, twice]);
    await line.shows(worker, 'how big?', ['f1']);
    expect(shown('s')).toHaveLength(1);
    expect(line.sms.to('s').join()).toMatch(/ASKS AK/);
    expect(line.sms.asked.every((one) => one.picture === undefined)).toBe(true);
  });

  it('goes by Telegram or not at all: refused there it is no text on SMS', async () => {
    await open(allowed, [worker, seer]);
    line.telegram.answer = { kind: 'refused', why: 'telegram-400' };
    await line.shows(worker, 'how big?', ['f1']);
    expect(line.sms.to('s').filter((one) => /shows less than the patient/.test(one))).toEqual([]);
    expect(line.sms.to('s').join()).toMatch(/ASKS AK/);
  });

  it('goes to nobody while no doctor can see it, and says so', async () => {
    await open(allowed, [worker, plain]);
    await line.shows(worker, 'how big?', ['f1']);
    expect(line.telegram.to('w').join('\n')).toMatch(
      /AK: no doctor can see pictures on this line now, so yours went to nobody/,
    );
    expect(line.sms.to('p')).toEqual([]);
  });

  it('with the code of another case under it is about that case', async () => {
    line = await LinkedLine.open([both, seer], { content: allowed });
    const code = await line.coded(both);
    await line.says(both, 'NEW BO 1990 M');
    await line.shows(both, `${code} good enough?`, ['f1']);
    expect(shown('s')).toEqual([['f1', expect.stringMatching(/^Q\d\d AK: Person w: "good enough\?"/)]]);
  });

  it('with a code that is wrong goes to nobody: it is not taken for the patient at hand', async () => {
    line = await LinkedLine.open([both, seer], { content: allowed });
    const code = await line.coded(both);
    const slip = `${code.slice(0, 7)}${(Number(code[7]) + 1) % 10}`;
    await line.shows(both, `${slip} good enough?`, ['f1']);
    await line.hears(both.addresses[0]!, `DOCTOR ${slip} good enough?`);
    expect(line.heardBy('w').match(/A digit of that code is wrong/g)).toHaveLength(2);
    expect(line.heardBy('s')).toBe('');
  });

  it('of an album, where the words stand under one alone, goes where the words went', async () => {
    line = await LinkedLine.open([both, seer], { content: allowed });
    const code = await line.coded(both);
    await line.says(both, 'NEW BO 1990 M');
    await line.shows(both, `${code} good enough?`, ['f1'], '777');
    await line.shows(both, '', ['f2', 'f3'], '777');
    expect(shown('s').map(([file, text]) => `${file} ${/^Q\d\d (\w+)/.exec(text)?.[1]}`)).toEqual([
      'f1 AK',
      'f2 AK',
      'f3 AK',
    ]);
  });

  it('of an album with a wrong code under it goes to nobody, like the one with the words', async () => {
    line = await LinkedLine.open([both, seer], { content: allowed });
    const code = await line.coded(both);
    await line.shows(both, `${code.slice(0, 7)}${(Number(code[7]) + 1) % 10} good?`, ['f1'], '777');
    await line.shows(both, '', ['f2', 'f3'], '777');
    expect(shown('s')).toEqual([]);
    await line.shows(both, `${code} good?`, ['f1'], '778');
    expect(shown('s')).toHaveLength(1);
  });

  it('of somebody who is in no case is found by its code; without one the next goes with the same question', async () => {
    const colleague = person('v', 'worker', ['telegram']);
    line = await LinkedLine.open([both, seer, colleague], { content: allowed });
    const code = await line.coded(both);
    await line.shows(colleague, `${code} is this blood?`, ['f1']);
    await line.shows(colleague, 'which jar?', ['f2', 'f3']);
    const tags = shown('s').map(([file, text]) => `${file} ${/^Q(\d\d)/.exec(text)?.[1]} ${text.includes('AK')}`);
    expect(tags).toEqual([
      expect.stringMatching(/^f1 \d\d true/),
      expect.stringMatching(/^f2 (\d\d) false/),
      expect.stringMatching(/^f3 (\d\d) false/),
    ]);
    expect(tags[1]!.slice(3)).toBe(tags[2]!.slice(3));
    expect(tags[1]!.slice(3, 5)).not.toBe(tags[0]!.slice(3, 5));
  });

  it('is kept as its words alone, and a second delivery changes nothing', async () => {
    await open();
    await line.shows(worker, 'how big?', ['file-f1']);
    const kept = await line.store.messages({ personId: 'w' });
    expect(kept.filter((one) => one.direction === 'in').at(-1)?.text).toBe('how big?');
    expect(JSON.stringify(kept)).not.toContain('file-f1');
    expect(await line.store.verify()).toEqual([]);
  });

  it('that is a video is refused with what can be sent instead', async () => {
    await open();
    const before = line.telegram.to('w').length;
    await line.sends(worker, 'picture', '');
    expect(line.telegram.to('w').slice(before).join('\n')).toMatch(/Only a photo goes to the doctor, not a video/);
  });

  it('of a doctor is refused: they answer in words', async () => {
    await open();
    await line.shows(seer, '', ['f1']);
    expect(last('s')).toMatch(/take no pictures/);
  });
});
