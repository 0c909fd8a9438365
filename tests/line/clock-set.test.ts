import { createServer, type Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { SmsChannel } from '../../src/channels/sms/channel.ts';
import { kannel } from '../../src/channels/sms/kannel.ts';
import { LinkClock } from '../../src/channels/sms/link-clock.ts';
import { ClockJump } from '../../src/line/clock-jump.ts';
import { hourMs, phoneOf, QueueLine, secondMs } from '../support/queue-line.ts';

const worker = phoneOf('w', 'worker', 1);
const doctor = phoneOf('d', 'doctor', 2);
const coordinator = phoneOf('c', 'coordinator', 3);
const second = phoneOf('e', 'doctor', 4, { rank: 2 });

describe('a clock that is set after a fault of the gateway', () => {
  let clinic: QueueLine;
  let server: Server;
  let isWell: boolean;
  const taken: string[] = [];

  beforeEach(async () => {
    taken.length = 0;
    isWell = false;
    server = createServer((request, response) => {
      let body = '';
      request.on('data', (part: Buffer) => {
        body += part.toString('utf8');
      });
      request.once('end', () => {
        if (isWell) taken.push(`${request.headers['x-kannel-to']} ${body}`);
        response.writeHead(isWell ? 202 : 503).end();
      });
    });
    await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
    clinic = new QueueLine();
    await clinic.open(channel());
    await clinic.store.putPeople([worker, doctor, coordinator]);
  });
  afterEach(async () => {
    server.closeAllConnections();
    server.close();
    expect(await clinic.sosUnheard()).toEqual([]);
    await clinic.close();
  });

  function channel(): SmsChannel {
    const { port } = server.address() as AddressInfo;
    return new SmsChannel({
      name: 'sms',
      label: 'SMS',
      perSecond: null,
      perDay: null,
      dayOf: () => '2030-03-04',
      mapping: kannel,
      account: { sendUrl: `http://127.0.0.1:${port}/send`, user: 'u', password: 'p', number: '1234' },
      prefixes: ['+000555'],
      secrets: ['a-secret'],
      reportUrl: 'http://127.0.0.1:1/report',
      linkClock: new LinkClock(60_000),
      clock: { now: () => clinic.now },
      steady: () => clinic.steady,
      log: { write: () => undefined },
    });
  }
  const seconds = async (count: number): Promise<void> => {
    for (let second = 0; second < count; second += 1) {
      clinic.pass(secondMs);
      await clinic.line.settle();
    }
  };
  /** The line looks every now and then, also when it knows of nothing. */
  const minutes = async (count: number): Promise<void> => {
    for (let look = 0; look < count * 6; look += 1) {
      clinic.pass(10 * secondMs);
      await clinic.line.settle();
    }
  };
  /** Begin of the first aid that every alarm gets. */
  const firstAid = () => taken.filter((one) => one.includes('Take the needle out')).length;

  it.each([
    [-48, false],
    [-48, true],
    [48, false],
    [48, true],
  ])('by %i h, with a restart: %s: first aid leaves, and /health says so while it does not', async (hours, restart) => {
    await clinic.hear(worker, 'LIST');
    await clinic.hear(worker, 'SOS');
    await seconds(4);
    expect(taken).toEqual([]);
    clinic.now += hours * hourMs;
    if (restart) {
      await clinic.store.close();
      await clinic.open(channel());
    }
    await seconds(1);
    expect(await clinic.health()).toMatchObject({ ok: false });
    expect((await clinic.health()).outboxLateMs).toBeGreaterThan(hourMs);
    isWell = true;
    await seconds(12);
    expect(firstAid()).toBeGreaterThan(0);
    const texts = await clinic.store.messages({});
    expect(texts.filter((one) => one.direction === 'out' && one.status === 'queued')).toEqual([]);
    expect(await clinic.health()).toMatchObject({ ok: true, outboxLateMs: 0 });
    // Said after the clock was set.
    const before = taken.length;
    await clinic.hear(worker, 'LIST');
    await clinic.hear(doctor, 'LIST');
    await seconds(1);
    expect(taken.length).toBeGreaterThan(before + 1);
  });

  it.each([false, true])(
    'back by 48 h, with a restart: %s: an open alarm goes on within its minutes',
    async (restart) => {
      isWell = true;
      await clinic.store.putPeople([second]);
      await clinic.hear(worker, 'SOS');
      await seconds(2);
      const to = (one: typeof worker) => taken.filter((text) => text.includes(one.addresses[0]!.address.slice(1)));
      expect(to(second)).toEqual([]);
      clinic.now -= 48 * hourMs;
      if (restart) {
        await clinic.store.close();
        await clinic.open(channel());
      }
      const before = to(worker).length;
      await minutes(9);
      // The next doctor is asked, and the clinic is asked how the patient is.
      expect(to(second).length).toBeGreaterThan(0);
      expect(to(worker).length).toBeGreaterThan(before);
      // An SOS sent again is told to the doctors, though they heard "in the future".
      const heard = to(doctor).length;
      await clinic.hear(worker, 'SOS');
      await minutes(3);
      expect(to(doctor).length).toBeGreaterThan(heard);
    },
  );

  it('is noticed once, also when it was set in many small steps', () => {
    const clock = { at: 0, now: () => clock.at };
    let steady = 0;
    const jump = new ClockJump(clock, () => steady);
    expect(jump.happened()).toBe(false);
    clock.at += 60_000;
    steady += 60_000;
    expect(jump.happened()).toBe(false);
    const noticed = Array.from({ length: 10 }, () => {
      clock.at -= 2_000;
      return jump.happened();
    });
    expect(noticed.filter(Boolean)).toHaveLength(3);
  });
});
