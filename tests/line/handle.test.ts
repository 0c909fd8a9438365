import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import Database from 'better-sqlite3';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { seededRandom } from '../../src/cli/player.ts';
import { dueAtOf } from '../../src/conversation/duties.ts';
import { registry } from '../../src/conversation/matters.ts';
import type { Person } from '../../src/conversation/world.ts';
import { Line } from '../../src/line/line.ts';
import type { Channel, OutboundMessage, SendResult } from '../../src/line/ports.ts';
import { openKeyRing } from '../../src/store/keys.ts';
import { openStore } from '../../src/store/open.ts';
import type { LineStore } from '../../src/store/store.ts';
import { shipped as content } from '../support/shipped.ts';

const start = Date.UTC(2030, 2, 4, 8);

/** A channel whose answers the test decides. */
class TestChannel implements Channel {
  readonly name = 'sms';
  readonly maxText = 0;
  readonly buttons = false;
  readonly images = false;
  readonly reports = true;
  readonly sent: OutboundMessage[] = [];
  answer: (message: OutboundMessage) => SendResult = () => ({ kind: 'sent' });
  async send(message: OutboundMessage): Promise<SendResult> {
    const result = this.answer(message);
    if (result.kind === 'sent') this.sent.push(message);
    return result;
  }
}

function worker(number: number): Person {
  return {
    id: `w${number}`,
    programmeId: content.programme.id,
    name: `Worker ${number}`,
    roles: ['worker'],
    siteId: content.programme.sites[0]!.id,
    locale: 'en',
    addresses: [{ channel: 'sms', address: `+00055501${String(number).padStart(4, '0')}` }],
    rank: 0,
    state: 'joined',
    practised: true,
    shared: false,
  };
}

let folder: string;
let store: LineStore;
let line: Line;
let channel: TestChannel;
let now = start;
const logged: string[] = [];

async function open(seen: (opened: LineStore) => LineStore = (opened) => opened): Promise<void> {
  store = await openStore({
    url: `sqlite:${join(folder, 'line.db')}`,
    keys: openKeyRing(join(folder, 'line.key')),
    dueAtOf: (of) => dueAtOf(content.programme, of),
    exclusive: false,
  });
  channel = new TestChannel();
  line = new Line({
    store: seen(store),
    content,
    registry,
    clock: { now: () => now },
    random: seededRandom(1),
    log: { write: (_level, event, fields) => logged.push(`${event} ${JSON.stringify(fields ?? {})}`) },
    channels: new Map([['sms', channel]]),
  });
}

beforeEach(async () => {
  folder = mkdtempSync(join(tmpdir(), 'neckline-line-'));
  now = start;
  logged.length = 0;
  await open();
});

afterEach(async () => {
  await store.close();
  rmSync(folder, { recursive: true, force: true });
});

function hear(person: Person, id: string, text: string, keys: string[] = []): Promise<string> {
  return line.hearText(person.addresses[0]!, id, text, now, keys);
}

describe('the one door in', () => {
  it('thirty-two people who write at once are each answered once', async () => {
    const people = Array.from({ length: 32 }, (_unused, index) => worker(index));
    await store.putPeople(people);
    const handled = await Promise.all(people.map((person, index) => hear(person, `m${index}`, 'NEW')));
    await line.settle();
    expect(new Set(handled)).toEqual(new Set(['done']));
    expect(channel.sent.map((one) => one.to.address).sort()).toEqual(
      people.map((one) => one.addresses[0]!.address).sort(),
    );
  });

  it('messages of one person are handled in the order in which they came', async () => {
    await store.putPeople([worker(1)]);
    await Promise.all(
      ['NEW', 'AK 1982 F', '60', '70', '80', '0', '40', '1'].map((text, index) => hear(worker(1), `m${index}`, text)),
    );
    await line.settle();
    expect(channel.sent.at(-1)?.text).toContain('what is the TSH');
    expect(channel.sent).toHaveLength(8);
  });

  it('somebody whose record cannot be read stops nobody who writes at the same moment', async () => {
    await store.putPeople([worker(1), worker(2), worker(3)]);
    await store.close();
    const database = new Database(join(folder, 'line.db'));
    database.exec("update people set sealed = (select sealed from people where id = 'w1') where id = 'w2'");
    database.close();
    await open();
    const handled = await Promise.all([1, 2, 3].map((number) => hear(worker(number), `m${number}`, 'NEW')));
    expect(handled).toEqual(['done', 'parked', 'done']);
    await line.settle();
    const answered = channel.sent.filter((one) => one.text.startsWith('NEW PATIENT')).map((one) => one.personId);
    expect(answered.sort()).toEqual(['w1', 'w3']);
    const aside = channel.sent.filter((one) => one.to.address === worker(2).addresses[0]!.address);
    expect(aside.map((one) => one.text)).toEqual([expect.stringMatching(/A person will look at it/)]);
    expect((await store.parked()).map((one) => one.code)).toEqual(['failed']);
  });

  it('a text whose rows another line writes again and again is handled once that lets go, and is no fault', async () => {
    let conflicts = 9;
    await store.close();
    await open((opened) => ({
      ...opened,
      commit: async (changes) =>
        conflicts-- > 0 ? changes.map(() => 'conflict' as const) : await opened.commit(changes),
    }));
    await store.putPeople([worker(1)]);
    expect(await hear(worker(1), 'a', 'NEW')).toBe('done');
    await line.settle();
    expect(channel.sent.map((one) => one.text.slice(0, 11))).toEqual(['NEW PATIENT']);
    expect(await store.parked()).toEqual([]);
    expect(logged.join()).not.toContain('parked');
  });

  it('a message that the gateway repeats, with the same id or another one, changes nothing', async () => {
    await store.putPeople([worker(1)]);
    expect(await hear(worker(1), 'a', 'NEW', ['sender-time-text'])).toBe('done');
    expect(await hear(worker(1), 'a', 'NEW', ['sender-time-text'])).toBe('duplicate');
    expect(await hear(worker(1), 'b', 'NEW', ['sender-time-text'])).toBe('duplicate');
    await line.settle();
    expect(channel.sent).toHaveLength(1);
  });

  it('what was answered before a kill is there after it, and its reply is sent once', async () => {
    await store.putPeople([worker(1)]);
    await hear(worker(1), 'a', 'NEW');
    // Nothing was sent yet when the process dies.
    await open();
    await store.recoverOutbox(now);
    await line.settle();
    expect(channel.sent).toHaveLength(1);
    await hear(worker(1), 'b', 'AK 1982 F');
    await line.settle();
    expect(channel.sent.at(-1)?.text).toContain('AK: breathing. 1 noisy');
  });

  it('a log line holds no text, no number and no name', async () => {
    await store.putPeople([worker(1)]);
    channel.answer = () => ({ kind: 'later', waitMs: 1000, why: 'no-net' });
    await hear(worker(1), 'a', 'NEW');
    await hear(worker(1), 'b', 'AK 1982 F');
    await line.settle();
    expect(logged.length).toBeGreaterThan(0);
    expect(logged.join('\n')).not.toMatch(/\+000555|Worker 1|breathing|1982/);
  });
});

describe('the one door out', () => {
  it('a text that cannot go now goes later, in order', async () => {
    await store.putPeople([worker(1)]);
    channel.answer = () => ({ kind: 'later', waitMs: 60_000, why: 'gateway-down' });
    await hear(worker(1), 'a', 'NEW');
    await hear(worker(1), 'b', 'AK 1982 F');
    const next = await line.settle();
    expect(channel.sent).toHaveLength(0);
    expect(next).not.toBeNull();
    channel.answer = () => ({ kind: 'sent' });
    now += 61_000;
    await line.settle();
    expect(channel.sent.map((one) => one.text.slice(0, 11))).toEqual(['NEW PATIENT', 'AK: breathi']);
  });

  it('a text whose fate is unknown goes out again after a while, three times at most, and the line runs on', async () => {
    let tries = 0;
    await store.putPeople([worker(1), worker(2)]);
    channel.answer = (message) => {
      if (message.to.address !== worker(1).addresses[0]!.address) return { kind: 'sent' };
      tries += 1;
      throw new Error('broken');
    };
    await hear(worker(1), 'a', 'NEW');
    await hear(worker(2), 'b', 'NEW');
    await line.settle();
    expect(channel.sent).toHaveLength(1);
    expect(tries).toBe(1);
    for (const wanted of [2, 3, 3]) {
      now += 2 * 60_000;
      await line.settle();
      expect(tries).toBe(wanted);
      const texts = await store.messages({ personId: 'w1' });
      expect(texts.find((one) => one.direction === 'out')?.status).toBe('unsure');
    }
  });
});
