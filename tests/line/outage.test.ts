import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { Gateway, hourMs, phoneOf, QueueLine } from '../support/queue-line.ts';

const worker = phoneOf('w', 'worker', 1);
const other = phoneOf('v', 'worker', 2, { siteId: 'kesu' });
const doctor = phoneOf('d', 'doctor', 3, { rank: 1 });
const second = phoneOf('e', 'doctor', 4, { rank: 2 });
const coordinator = phoneOf('c', 'coordinator', 5);

describe('a gateway that comes back after three days with an alarm open', () => {
  let clinic: QueueLine;
  let gateway: Gateway;

  beforeEach(async () => {
    gateway = new Gateway();
    clinic = new QueueLine();
    await clinic.open(gateway);
    await clinic.store.putPeople([worker, other, doctor, second, coordinator]);
    await clinic.line.settle();
    await clinic.hear(worker, 'SOS');
    await clinic.run(60_000);
    gateway.manner = 'busy';
    await clinic.run(72 * hourMs);
    gateway.taken.length = 0;
  }, 120_000);
  afterEach(async () => {
    expect(await clinic.sosUnheard()).toEqual([]);
    await clinic.close();
  });

  it('a new alarm goes first to everybody, and nothing that a later text replaced is sent', async () => {
    gateway.manner = 'take';
    await clinic.hear(other, 'SOS');
    await clinic.line.settle();
    const to = (id: string) => gateway.taken.filter((one) => one.personId === id);
    expect(gateway.taken.slice(0, 2).map((one) => one.personId)).toEqual(expect.arrayContaining(['v', 'd']));
    expect(to('d')[0]).toMatchObject({ first: true });
    // All that waited goes at once, not each text at the end of its own pause.
    const all = gateway.taken.length;
    await clinic.run(60_000);
    expect(gateway.taken.slice(all).filter((one) => one.at < clinic.now - 60_000)).toEqual([]);
    expect(to('w').filter((one) => one.ask?.field === 'sos-now')).toHaveLength(1);
    for (const id of ['d', 'e']) {
      const asked = to(id).filter((one) => one.ask?.field === 'sos');
      expect(new Set(asked.map((one) => one.ask!.token)).size).toBe(asked.length);
    }
    expect(to('w').length).toBeLessThan(6);
    expect(to('d').length).toBeLessThan(10);
  });
});
