import { afterEach, describe, expect, it } from 'vitest';
import { welcomeDue } from '../../src/conversation/welcome.ts';
import type { Person, Role } from '../../src/conversation/world.ts';
import { nothingChanged } from '../../src/line/change.ts';
import { LinkedLine, type LinkedOptions } from '../support/linked-line.ts';
import { person } from '../support/links.ts';
import { shipped } from '../support/shipped.ts';

const { programme } = shipped;
/** 8 o'clock by UTC is 11 in Nairobi. */
const morning = Date.UTC(2030, 2, 4, 8);
const night = Date.UTC(2030, 2, 4, 20);
const fresh = (role: Role, id = 'w'): Person => ({ ...person(id, role, ['sms']), practised: false });

let line: LinkedLine;
afterEach(() => line?.close());

/** Somebody comes on the roster by its file, as `roster import` stores it. */
async function imported(who: Person, options: LinkedOptions = {}, at = morning): Promise<void> {
  line = await LinkedLine.open([], options);
  line.now = at;
  await store(who, at);
  await line.later(0);
}

async function store(who: Person, at: number): Promise<void> {
  const change = { ...nothingChanged(`roster:${at}`, programme.id, at), due: [welcomeDue(programme, who, at)!] };
  expect(await line.store.commit([{ ...change, people: [{ kind: 'put-person', person: who }] }])).toEqual([
    'committed',
  ]);
}

const withPrice = (price: typeof programme.price): LinkedOptions => ({
  content: { ...shipped, programme: { ...programme, price } },
});

describe('the welcome of somebody new', () => {
  it.each([
    ['worker', /^Welcome to the Tamboro thyroid line\. Send JOIN to practise .* SOS calls help/],
    ['doctor', /Clinics ask you here\. Send JOIN/],
    ['lab', /You send results here\. Send JOIN/],
    ['coordinator', /I text you each morning\. Send JOIN/],
  ] as const)('is one text to a %s: the first word, who pays, SOS', async (role, said) => {
    await imported(fresh(role));
    const texts = line.sms.to('w');
    expect(texts).toHaveLength(1);
    expect(texts[0]).toMatch(said);
    expect(texts[0]).toMatch(/The programme pays for your texts\. .*SOS/);
  });

  it.each([
    [{ currency: 'XTS', perSegmentOut: 0.04, perSegmentIn: 0 }, 'You pay for the texts you send.'],
    [undefined, 'Your network may charge you.'],
  ])('says who pays as the programme reckons: %j', async (price, said) => {
    await imported(fresh('worker'), withPrice(price));
    expect(line.heardBy('w')).toContain(said);
  });

  it('waits for the day, also where the line was away when it should have come', async () => {
    await imported(fresh('worker'), {}, night);
    expect(line.sms.to('w')).toEqual([]);
    // Away over the day, and back at night.
    await line.later(24 * 60);
    expect(line.sms.to('w')).toEqual([]);
    await line.later(8 * 60);
    expect(line.sms.to('w')).toHaveLength(1);
  });

  it('comes once, however often the file is read', async () => {
    await imported(fresh('worker'));
    await store(fresh('worker'), morning + 1);
    await line.later(24 * 60);
    expect(line.sms.to('w')).toHaveLength(1);
  });

  it('asks nobody to practise who has written already', async () => {
    line = await LinkedLine.open([]);
    line.now = night;
    await store(fresh('worker'), night);
    await line.says(fresh('worker'), 'JOIN', '23');
    await line.later(12 * 60);
    expect(line.sms.to('w').at(-1)).toBe('The programme pays for your texts. SOS calls help at any moment.');
  });

  it('goes to nobody who left the line meanwhile', async () => {
    await imported({ ...fresh('worker'), state: 'stopped' });
    expect(line.sms.to('w')).toEqual([]);
  });

  it.each([
    ['on the bench', 'bench'],
    ['on a network where only they may write first', 'telegram'],
  ])('is none %s', (_where, channel) => {
    expect(welcomeDue(programme, person('w', 'worker', [channel]), morning)).toBeNull();
  });
});

describe('a trial', () => {
  const trial = /^TRIAL: this line is only being tried out\. No patient may depend on it yet\./;

  it('is said in the first text to each person, and once', async () => {
    await imported(fresh('worker'), { trial: true });
    expect(line.sms.to('w')[0]).toMatch(trial);
    await line.says(fresh('worker'), 'JOIN', '23', 'LIST');
    expect(line.heardBy('w').match(/TRIAL/g)).toHaveLength(1);
  });

  it('is said to people who were on the line before, and to a doctor who is asked something', async () => {
    const doctor = person('d', 'doctor', ['sms']);
    line = await LinkedLine.open([person('w', 'worker', ['sms']), doctor], { trial: true });
    await line.says(person('w', 'worker', ['sms']), 'DOCTOR is this a lump');
    for (const id of ['w', 'd']) expect(line.sms.to(id)[0]).toMatch(trial);
  });

  it('waits while somebody is in danger: first aid goes first', async () => {
    line = await LinkedLine.open([person('w', 'worker', ['sms']), person('d', 'doctor', ['sms'])], { trial: true });
    await line.says(person('w', 'worker', ['sms']), 'SOS');
    for (const id of ['w', 'd']) expect(line.sms.to(id)[0]).not.toMatch(/TRIAL/);
  });

  it('stands in the morning text, and a line that is none says nothing of it', async () => {
    const sela = person('c', 'coordinator', ['sms']);
    const dawn = Date.UTC(2030, 2, 5, 4);
    line = await LinkedLine.open([sela], { trial: true });
    line.now = dawn;
    await line.later(0);
    expect(line.heardBy('c')).toMatch(/MORNING[\s\S]*TRIAL: no patient may depend on this line yet\..*command ready/);
    await line.close();
    line = await LinkedLine.open([sela]);
    line.now = dawn;
    await line.later(0);
    expect(line.heardBy('c')).toMatch(/MORNING/);
    expect(line.heardBy('c')).not.toMatch(/TRIAL/);
  });
});

describe("Monday's morning text", () => {
  const monday = Date.UTC(2030, 2, 4, 4);
  const hears = async (unsigned: { conventions: number; languages: readonly string[] } | null, at = monday) => {
    line = await LinkedLine.open([person('c', 'coordinator', ['sms'])], { unsigned: async () => unsigned });
    line.now = at;
    await line.later(0);
    const texts = line.sms.to('c');
    expect(texts.filter((one) => /MORNING/.test(one))).toHaveLength(1);
    return texts.filter((one) => !/MORNING/.test(one));
  };

  it.each([
    [
      3,
      ['English'],
      'No clinician has signed 3 of my values yet. Nobody has read my texts in English. The operator shows them: command sign.',
    ],
    [3, [], 'No clinician has signed 3 of my values yet. The operator shows them: command sign.'],
    [
      0,
      ['English', 'Kiswahili'],
      'Nobody has read my texts in English, Kiswahili. The operator shows them: command sign.',
    ],
  ] as const)('says what is unsigned: %d values, %j', async (conventions, languages, said) => {
    expect(await hears({ conventions, languages })).toEqual([said]);
  });

  it('says nothing where all is signed, and nothing on a Tuesday', async () => {
    expect(await hears({ conventions: 0, languages: [] })).toEqual([]);
    await line.close();
    expect(await hears({ conventions: 3, languages: [] }, monday + 86_400_000)).toEqual([]);
  });
});
