import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { OutboundMessage } from '../../src/line/ports.ts';
import { Gateway, phoneOf, QueueLine, secondMs } from '../support/queue-line.ts';

const repeater = phoneOf('w', 'worker', 1);
const other = phoneOf('v', 'worker', 2, { siteId: 'kesu' });
const doctor = phoneOf('d', 'doctor', 3, { rank: 1 });
const coordinators = [phoneOf('c', 'coordinator', 4), phoneOf('k', 'coordinator', 5)];

describe('an alarm behind a gateway that takes one text a second', () => {
  let clinic: QueueLine;
  let gateway: Gateway;

  beforeEach(async () => {
    gateway = new Gateway();
    clinic = new QueueLine();
    await clinic.open(gateway);
    await clinic.store.putPeople([repeater, other, doctor, ...coordinators]);
    // The morning texts are out of the way.
    await clinic.line.settle();
    gateway.manner = 'one-by-one';
  });
  afterEach(() => clinic.close());

  /** Handles what is due and hands over what there is room for. */
  const hand = async (): Promise<void> => {
    await clinic.line.settleDue();
    await clinic.line.courier.pump(() => undefined);
    await new Promise((resolve) => setImmediate(resolve));
  };
  const second = async (): Promise<void> => {
    await hand();
    clinic.pass(secondMs);
    gateway.takeOne();
    for (let turn = 0; turn < 3; turn += 1) await new Promise((resolve) => setImmediate(resolve));
  };
  /** Another clinic's alarm comes; gives the texts that go out before its first aid and before its doctor hears. */
  const alarm = async (): Promise<readonly [number, number]> => {
    const before = gateway.taken.length;
    await clinic.hear(other, 'SOS');
    const isAid = (one: OutboundMessage) => one.personId === 'v' && one.first === true;
    const isAsked = (one: OutboundMessage) => one.personId === 'd' && one.first === true;
    const since = () => gateway.taken.slice(before);
    for (let n = 0; n < 60 && !(since().some(isAid) && since().some(isAsked)); n += 1) await second();
    return [since().findIndex(isAid), since().findIndex(isAsked)];
  };

  it('100 repeats from one phone delay another clinic`s first aid and its doctor by two texts at most', async () => {
    await clinic.hear(repeater, 'SOS');
    for (let n = 0; n < 10; n += 1) await second();
    for (let n = 0; n < 100; n += 1) await clinic.hear(repeater, 'SOS');
    for (let n = 0; n < 5; n += 1) await second();
    const [aid, asked] = await alarm();
    expect(aid).toBeGreaterThanOrEqual(0);
    expect(aid).toBeLessThanOrEqual(2);
    // Its own first aid goes before its doctor.
    expect(asked).toBeGreaterThanOrEqual(0);
    expect(asked).toBeLessThanOrEqual(3);
  });

  it('600 strangers who send SOS delay it by two texts at most', async () => {
    for (let n = 0; n < 600; n += 1) await clinic.hear(`+00055577${String(n).padStart(4, '0')}`, 'SOS');
    for (let n = 0; n < 20; n += 1) await second();
    const [aid, asked] = await alarm();
    expect(aid).toBeGreaterThanOrEqual(0);
    expect(aid).toBeLessThanOrEqual(2);
    expect(asked).toBeGreaterThanOrEqual(0);
    expect(asked).toBeLessThanOrEqual(3);
  });

  it('an SOS behind 300 ordinary texts is handled right after the group under way, as a text and as a tap', async () => {
    const people = Array.from({ length: 300 }, (_, n) => phoneOf(`p${n}`, 'worker', 100 + n));
    await clinic.store.putPeople(people);
    const done: string[] = [];
    const texts = people.map((one, n) => clinic.hear(one, 'NEW').then(() => done.push(`p${n}`)));
    const sos = clinic.hear(other, 'SOS').then(() => done.push('sos'));
    // However it is spelled.
    const dotted = clinic.hear(people[299]!, 'S.O.S').then(() => done.push('dotted'));
    const to = repeater.addresses[0]!;
    const tap = clinic.line.hearTap(to, 'tap-1', 'f0:0', 'SOS').then(() => done.push('tap'));
    await Promise.all([...texts, sos, dotted, tap]);
    expect(done.indexOf('sos')).toBeLessThan(64);
    expect(done.indexOf('tap')).toBeLessThan(64);
    expect(done.indexOf('dotted')).toBeLessThan(64);
  });
});
