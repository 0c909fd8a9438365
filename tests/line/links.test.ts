import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { seededRandom } from '../../src/cli/player.ts';
import { dueAtOf } from '../../src/conversation/duties.ts';
import { registry } from '../../src/conversation/matters.ts';
import type { Person } from '../../src/conversation/world.ts';
import { nothingChanged } from '../../src/line/change.ts';
import { Line } from '../../src/line/line.ts';
import { keyRingOf } from '../../src/store/keys.ts';
import { openStore } from '../../src/store/open.ts';
import type { LineStore } from '../../src/store/store.ts';
import { countSegments } from '../../src/text/segments.ts';
import { Link, person } from '../support/links.ts';
import { shipped as content } from '../support/shipped.ts';

const minute = 60_000;

const worker = person('w', 'worker', ['sms', 'telegram']);
const doctor = person('d', 'doctor', ['sms']);
const second: Person = { ...person('e', 'doctor', ['telegram']), rank: 2 };
const coordinator = person('c', 'coordinator', ['telegram']);

let folder: string;
let store: LineStore;
let line: Line;
let sms: Link;
let telegram: Link;
let now: number;
let heard = 0;
const logged: string[] = [];

function open(): Line {
  return new Line({
    store,
    content,
    registry,
    clock: { now: () => now },
    random: seededRandom(1),
    log: { write: (_level, event) => void logged.push(event) },
    dayHead: async (at) => (await store.dailyHead(at, 12 * 60 * minute)).mark,
    channels: new Map([
      ['sms', sms],
      ['telegram', telegram],
    ]),
  });
}

beforeEach(async () => {
  now = Date.UTC(2030, 2, 4, 8);
  folder = mkdtempSync(join(tmpdir(), 'neckline-links-'));
  store = await openStore({
    url: `sqlite:${join(folder, 'line.db')}`,
    keys: keyRingOf(new Uint8Array(32).fill(1)),
    dueAtOf: (of) => dueAtOf(content.programme, of),
    exclusive: false,
  });
  await store.putPeople([worker, doctor, second, coordinator]);
  sms = new Link('sms', true, true);
  telegram = new Link('telegram', false, false);
  line = open();
  // The morning texts of this day are out of the way.
  await line.settle();
  sms.asked.length = 0;
  telegram.asked.length = 0;
  logged.length = 0;
});
afterEach(async () => {
  await store.close();
  rmSync(folder, { recursive: true, force: true });
});

async function says(from: Person, text: string): Promise<void> {
  heard += 1;
  await line.hearText(from.addresses[0]!, `test:${heard}`, text, null);
  await line.settle();
}

/** A moment later; morning texts of the way are handled. */
async function later(ms: number): Promise<void> {
  now += ms;
  await line.settle();
}

describe('a person whom no link reaches', () => {
  it('gets each text once by each address, and not back and forth for ever', async () => {
    sms.answer = { kind: 'refused', why: 'not-allowed' };
    telegram.answer = { kind: 'refused', why: 'blocked' };
    await says(worker, 'NEW');
    for (let rounds = 0; rounds < 5; rounds += 1) await later(minute);
    expect(sms.to('w')).toHaveLength(1);
    expect(telegram.to('w')).toEqual(sms.to('w'));
  });

  it('gets the text by the other address when one refuses it', async () => {
    sms.answer = { kind: 'refused', why: 'not-allowed' };
    await says(worker, 'NEW');
    expect(telegram.to('w')).toEqual([expect.stringContaining('NEW PATIENT')]);
  });

  it('is told to the coordinators once in a while, with no word of the text', async () => {
    await store.putPeople([{ ...worker, addresses: [worker.addresses[0]!] }]);
    sms.answer = { kind: 'refused', why: 'not-allowed' };
    await says(worker, 'NEW');
    await says(worker, 'AK 1982 F');
    const told = telegram.to('c').filter((text) => text.includes('did not arrive'));
    expect(told).toEqual([expect.stringContaining('my text to Person w did not arrive. Please phone Person w.')]);
  });
});

describe('a person with two addresses', () => {
  it('is answered where they wrote from, and reached there until they write from the other one', async () => {
    const [bySms, byTelegram] = worker.addresses;
    const from = async (address: typeof bySms, text: string): Promise<void> => {
      heard += 1;
      await line.hearText(address!, `test:${heard}`, text, null);
      await line.settle();
    };
    await from(byTelegram, 'NEW');
    await from(byTelegram, 'AK 1982 F');
    expect(sms.to('w')).toEqual([]);
    expect(telegram.to('w')).toHaveLength(2);
    // A reminder hours later still goes there, also by a line that was started anew.
    line = open();
    await later(13 * 60 * minute);
    expect(telegram.to('w').at(-1)).toContain('breathing. 1 noisy');
    expect(sms.to('w')).toEqual([]);
    const before = telegram.to('w').length;
    // No data any more: first aid comes by the phone that asked for it.
    await from(bySms, 'SOS');
    expect(sms.to('w')[0]).toMatch(/FAINT/);
    expect(telegram.to('w')).toHaveLength(before);
  });
});

describe('a question to a doctor who is not reached', () => {
  it('goes to the next doctor at once, not when the first has been silent long enough', async () => {
    sms.answer = { kind: 'sent' };
    await says(worker, 'NEW');
    await says(worker, 'AK 1982 F');
    await says(worker, 'SOS');
    expect(sms.to('d').join('\n')).toContain('SOS');
    expect(telegram.to('e')).toEqual([]);
    const asked = sms.asked.find((one) => one.personId === 'd')!;
    await store.report(asked.id, 'failed', now);
    await line.settle();
    expect(telegram.to('e').join('\n')).toContain('SOS');
  });

  it.each([
    ['the only one', [] as Person[]],
    ['like every other', [{ ...person('f', 'doctor', ['telegram']), rank: 3 }]],
  ])('and is %s is asked again after a pause only; the clinic gets a number at once', async (_who, more) => {
    await store.putPeople([
      { ...doctor, state: 'suspended' },
      { ...coordinator, addresses: doctor.addresses },
      ...more,
    ]);
    telegram.answer = { kind: 'refused', why: 'blocked' };
    await says({ ...worker, addresses: [worker.addresses[0]!] }, 'NEW');
    await says(worker, 'AK 1982 F');
    await says(worker, 'DOCTOR how deep');
    const asked = (): number => telegram.to('e').filter((text) => / ASKS |not settled yet/.test(text)).length;
    expect(asked()).toBeLessThanOrEqual(2);
    expect(sms.to('w').join('\n')).toMatch(/no doctor has answered yet. Phone/);
    expect(sms.to('c').join('\n')).toMatch(/Person e did not arrive/);
    const before = asked();
    await later(30 * minute);
    expect(asked()).toBe(before);
    await later(24 * 60 * minute);
    expect(asked()).toBeGreaterThan(before);
    expect(asked()).toBeLessThanOrEqual(before + 4);
  });
});

describe('a link that gets worse', () => {
  const look = async (): Promise<void> => {
    await line.watch.look();
    await line.settle();
  };

  it('is told to the coordinators once, and once more when it works again', async () => {
    sms.answer = { kind: 'later', waitMs: 0, why: 'down' };
    await says(worker, 'NEW');
    now += 4 * minute;
    for (let rounds = 0; rounds < 3; rounds += 1) await look();
    sms.answer = { kind: 'sent' };
    await later(2 * minute);
    for (let rounds = 0; rounds < 3; rounds += 1) await look();
    expect(telegram.to('c')).toEqual([
      expect.stringMatching(/^SMS: a text has waited over \d+ minutes to go out/),
      'SMS: it works again.',
    ]);
  });

  it('is told once also by a line that was started anew', async () => {
    sms.answer = { kind: 'later', waitMs: 0, why: 'down' };
    await says(worker, 'NEW');
    now += 4 * minute;
    await look();
    line = open();
    await look();
    expect(telegram.to('c')).toHaveLength(1);
  });

  it('is told to a coordinator by each other address, since the one that is used may be the one that is down', async () => {
    const both = person('c', 'coordinator', ['sms', 'telegram']);
    await store.putPeople([both]);
    sms.answer = { kind: 'later', waitMs: 0, why: 'down' };
    await says(worker, 'NEW');
    now += 4 * minute;
    await look();
    expect(telegram.to('c')).toEqual([expect.stringMatching(/^SMS: a text has waited over/)]);
  });

  it('and takes nothing holds back no first aid that goes by the other address', async () => {
    sms.answer = { kind: 'later', waitMs: 60_000, why: 'down' };
    await says(worker, 'NEW');
    now += 4 * minute;
    await line.watch.look();
    telegram.asked.length = 0;
    await says(worker, 'SOS');
    expect(telegram.to('w').join('\n')).toMatch(/FAINT/);
  });

  it('that asks for parts of a millisecond of rest stops nobody: the text goes out when it is over', async () => {
    sms.answer = { kind: 'later', waitMs: 3000.0417, why: 'gateway-rests' };
    await says(worker, 'NEW');
    sms.answer = { kind: 'sent' };
    sms.asked.length = 0;
    await later(5000);
    expect(sms.to('w')).toEqual([expect.stringContaining('NEW PATIENT')]);
  });

  it('sends first aid also by the other address, and nothing else', async () => {
    sms.answer = { kind: 'later', waitMs: 0, why: 'down' };
    await says(worker, 'NEW');
    now += 4 * minute;
    await line.watch.look();
    sms.answer = { kind: 'sent' };
    telegram.asked.length = 0;
    await says(worker, 'SOS');
    expect(telegram.to('w')[0]).toMatch(/FAINT/);
    expect(telegram.to('w').join('\n')).not.toContain('NEW PATIENT');
  });
});

describe('a prepaid budget', () => {
  const grant = async (segments: number): Promise<void> => {
    await says(coordinator, `CREDIT ${segments}`);
    const secret = /If that is right, send (\d{4})/.exec(telegram.to('c').at(-1) ?? '')?.[1] ?? '';
    await says(coordinator, secret);
  };
  /** News for a coordinator by SMS. */
  const tellNews = async (): Promise<void> => {
    await store.putPeople([{ ...coordinator, addresses: [{ channel: 'sms', address: '+000555010077' }] }]);
    const due = {
      id: 'news',
      programmeId: content.programme.id,
      personId: null,
      caseId: null,
      name: 'trouble',
      frameId: null,
      dueAt: now,
      what: { kind: 'trouble', key: 'link-ok', vars: { link: 'SMS' } } as const,
    };
    await store.commit([{ ...nothingChanged('put', content.programme.id, now), due: [due] }]);
    await line.settle();
  };
  const tries = (): number => logged.filter((event) => event === 'text-later').length;

  it('is counted down by what went out, and told when a fifth is left', async () => {
    await grant(5);
    for (let texts = 0; texts < 4; texts += 1) await says(worker, 'LIST');
    expect((await store.link('sms')).credit).toEqual({
      left: 5 - sms.asked.reduce((sum, one) => sum + countSegments(one.text).segments, 0),
      granted: 5,
    });
    await line.watch.look();
    await line.settle();
    expect(telegram.to('c').at(-1)).toMatch(/^SMS: \d of 5 segments are left/);
  });

  it('in its last tenth holds news back, and lets answers, first aid and questions to doctors out', async () => {
    await grant(1);
    await says(worker, 'NEW');
    await says(worker, 'AK 1982 F');
    await says(worker, 'SOS');
    expect(sms.to('w').join('\n')).toMatch(/AK: breathing.*FAINT/s);
    expect(sms.to('d').join('\n')).toContain('SOS');
    await tellNews();
    expect(sms.to('c')).toEqual([]);
    expect((await store.messages({ personId: 'c' })).at(-1)?.status).toBe('queued');
  });

  it('tries what it holds back at its own hour, however many answers go out meanwhile', async () => {
    await grant(1);
    await says(worker, 'NEW');
    await tellNews();
    expect(sms.to('c')).toEqual([]);
    const before = tries();
    for (let answers = 0; answers < 5; answers += 1) {
      now += 15_000;
      await says(worker, 'LIST');
    }
    expect(tries() - before).toBe(0);
    await later(16 * minute);
    expect(tries() - before).toBe(1);
  });
});

describe('a line that was away', () => {
  const tellAll = async (): Promise<void> => {
    const comeBack = line.comeBack(5 * minute);
    while (await comeBack.next());
  };

  it('tells whoever is in the middle of something, once, and asks the open question again', async () => {
    await says(worker, 'NEW');
    await says(worker, 'AK 1982 F');
    await line.watch.look();
    const before = sms.to('w').length;
    now += 2 * 3_600_000;
    for (let starts = 0; starts < 2; starts += 1) {
      line = open();
      await tellAll();
      await line.watch.look();
      await line.settle();
    }
    const said = sms.to('w').slice(before);
    expect(said.filter((text) => text.includes('I was away from 11:00 and am back'))).toHaveLength(1);
    expect(said.at(-1)).toContain('breathing. 1 noisy');
    expect(sms.to('d')).toEqual([]);
  });

  /** Initials of so many patients, all different. */
  const pairOf = (index: number) => String.fromCharCode(65 + (index % 26), 65 + Math.floor(index / 26));

  it('tells many piece by piece, and after dying in between whoever has not heard', async () => {
    const many = Array.from({ length: 100 }, (_, index) => ({
      ...worker,
      id: `many-${String(index).padStart(3, '0')}`,
      addresses: [{ channel: 'sms', address: `+00055520${String(index).padStart(4, '0')}` }],
    }));
    await store.putPeople(many);
    await Promise.all(many.map((one, index) => says(one, `NEW ${pairOf(index)} 1982 F`)));
    await line.watch.look();
    now += 2 * 3_600_000;
    line = open();
    expect(await line.comeBack(5 * minute).next()).toBe(true);
    now += minute;
    line = open();
    await tellAll();
    await line.watch.look();
    await line.settle();
    const told = many.map((one) => sms.to(one.id).filter((text) => text.includes('I was away from')).length);
    expect(told).toEqual(many.map(() => 1));
    expect(await line.comeBack(5 * minute).next()).toBe(false);
  });

  it('for a moment says nothing', async () => {
    await says(worker, 'NEW');
    await line.watch.look();
    const before = sms.to('w').length;
    now += minute;
    line = open();
    await tellAll();
    await line.settle();
    expect(sms.to('w')).toHaveLength(before);
  });
});

describe('what is no whole text', () => {
  const part = { reference: '42', total: 2, networkAt: null };

  it('changes nothing, says why, and asks the open question again', async () => {
    await says(worker, 'NEW');
    await says(worker, 'AK 1982 F');
    await line.hearPart(worker.addresses[0]!, 'part:1', { ...part, number: 1 }, '60');
    await later(4 * minute);
    await line.settle();
    expect(sms.to('w').slice(-2).join('\n')).toMatch(/part of your long text was lost[\s\S]*breathing\. 1 noisy/);
  });

  it('is first aid all the same when SOS is read in it', async () => {
    await line.hearPart(worker.addresses[0]!, 'part:2', { ...part, number: 2 }, 'and she bleeds SOS');
    await line.settle();
    expect(sms.to('w').join('\n')).toMatch(/FAINT/);
  });
});

describe('the morning text', () => {
  it('carries the mark of the day, which the history is held against later', async () => {
    now = Date.UTC(2030, 2, 5, 4);
    await line.settle();
    const [told] = telegram.to('c');
    const mark = /PROOF ([A-Z0-9]{12})$/.exec(told ?? '')?.[1];
    const { heads, faults } = await store.verifyHeads();
    expect([mark, faults]).toEqual([heads.at(-1)?.mark, []]);
    now += 24 * 60 * minute;
    await line.settle();
    expect(telegram.to('c').at(-1)).toMatch(/PROOF/);
    expect(telegram.to('c').at(-1)).not.toContain(mark);
  });
});
