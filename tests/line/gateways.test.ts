import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { downAfterMs, SmsRoutes } from '../../src/channels/sms/routes.ts';
import type { Lane } from '../../src/conversation/effect.ts';
import { nothingChanged } from '../../src/line/change.ts';
import { GatewayServer, smsChannel, smsMessage } from '../support/gateway-server.ts';
import { phoneOf, programmeId, QueueLine } from '../support/queue-line.ts';

const worker = phoneOf('w', 'worker', 1);
const doctor = phoneOf('d', 'doctor', 2, { rank: 1 });
const coordinator = phoneOf('c', 'coordinator', 4);
const hourMs = 3_600_000;

let one: GatewayServer;
let two: GatewayServer;
let clinic: QueueLine;
let put = 0;

beforeEach(async () => {
  one = await new GatewayServer().open();
  two = await new GatewayServer().open();
  clinic = new QueueLine();
});
afterEach(async () => {
  one.close();
  two.close();
  await clinic.close();
});

async function open(routes: SmsRoutes, isNew = true): Promise<void> {
  await clinic.open(routes);
  if (isNew) await clinic.store.putPeople([worker, doctor, coordinator]);
}

/** Puts texts to different phones into the outbox. */
async function says(lane: Lane, count = 1): Promise<void> {
  const validUntil = clinic.now + 48 * hourMs;
  const outbox = Array.from({ length: count }, () => {
    put += 1;
    const to = { channel: 'sms', address: `+00055502${String(put).padStart(4, '0')}` };
    return smsMessage(`text ${put}`, clinic.now, { id: `test:${put}:m1`, lane, to, personId: null, validUntil });
  });
  await clinic.store.commit([{ ...nothingChanged(`test:${put}`, programmeId, clinic.now), outbox }]);
}

const toCoordinator = (gateway: GatewayServer): readonly string[] =>
  gateway.calls
    .filter((call) => call.headers['x-kannel-to'] === coordinator.addresses[0]!.address)
    .map((call) => call.body);

async function look(): Promise<void> {
  await clinic.line.watch.look();
  await clinic.line.settle();
}

describe('the day of a gateway', () => {
  const routes = (perDay: number): SmsRoutes =>
    new SmsRoutes([{ gateway: smsChannel(one.url, asClocks(), { perDay }), first: [] }]);

  it('that had its texts puts off reminders till the morning and nothing else, and the coordinator hears once', async () => {
    await open(routes(2));
    await look();
    await says('reply', 2);
    await clinic.line.settle();
    await says('reminder');
    await says('notice');
    await says('sos');
    await clinic.line.settle();
    expect(one.calls.map((call) => call.headers['x-kannel-priority'])).toEqual(['2', '2', '3', '1']);
    await look();
    await look();
    expect(toCoordinator(one)).toEqual([
      expect.stringContaining('SMS: 2 segments went out today, as many as you allow'),
    ]);
    expect((await clinic.health()).links.sms).toMatchObject({ ways: { sms: { segmentsToday: 5, segmentsADay: 2 } } });
    const before = one.calls.length;
    await clinic.run(10 * hourMs);
    expect(one.calls.length).toBe(before);
    await clinic.run(14 * hourMs);
    expect(one.calls.slice(before).map((call) => call.headers['x-kannel-priority'])).toContain('0');
  });

  it('counts on after a restart', async () => {
    await open(routes(2));
    await look();
    await says('reply', 2);
    await clinic.line.settle();
    await look();
    await clinic.store.close();
    await open(routes(2), false);
    await look();
    await says('reminder');
    const before = one.calls.length;
    await clinic.line.settle();
    expect(one.calls.length).toBe(before);
    expect(toCoordinator(one)).toHaveLength(1);
  });
});

describe('the pace of a gateway', () => {
  /** Sends as the line's pump does, without its timers, for so many seconds. */
  async function pump(seconds: number): Promise<readonly number[]> {
    const inSecond: number[] = [];
    for (let second = 0; second < seconds; second += 1) {
      const before = one.calls.length;
      for (let tenth = 0; tenth < 10; tenth += 1) {
        await clinic.line.courier.pump(() => undefined);
        await clinic.line.courier.idle();
        clinic.pass(100);
      }
      inSecond.push(one.calls.length - before);
    }
    return inSecond;
  }

  it('is kept by texts that wait in the queue, of which the urgent ones go first', async () => {
    await open(new SmsRoutes([{ gateway: smsChannel(one.url, asClocks(), { perSecond: 4 }), first: [] }]));
    await says('notice', 30);
    expect((await pump(3)).slice(1)).toEqual([4, 4]);
    await says('reply', 3);
    await says('sos', 2);
    const before = one.calls.length;
    await pump(2);
    const lanes = one.calls.slice(before).map((call) => call.headers['x-kannel-priority']);
    expect(lanes).toEqual(['3', '3', '2', '2', '2', '1', '1', '1']);
    // None of them was put off by it.
    expect(clinic.logged).not.toContain('text-later');
  });

  it('tells the pump when there is room again', async () => {
    await open(new SmsRoutes([{ gateway: smsChannel(one.url, asClocks(), { perSecond: 0.5 }), first: [] }]));
    await says('notice', 3);
    const { courier } = clinic.line;
    await courier.pump(() => undefined);
    await courier.idle();
    expect(await courier.pump(() => undefined)).toBe(2000);
  });
});

describe('a gateway that is left alone for a while', () => {
  it('is asked again when that is over, though the clock that measures it counts fractions of a millisecond', async () => {
    await open(new SmsRoutes([{ gateway: smsChannel(one.url, asClocks()), first: [] }]));
    one.says(503);
    for (let tries = 0; tries < 4; tries += 1) {
      await says('reply');
      await clinic.line.settle();
      clinic.pass(100);
      clinic.steady += 0.371;
    }
    expect(one.calls).toHaveLength(3);
    one.says(202);
    await clinic.run(60_000);
    expect(one.calls).toHaveLength(7);
    expect(clinic.logged).not.toContain('settle-failed');
  });
});

describe('two gateways of one line', () => {
  beforeEach(async () => {
    await open(
      new SmsRoutes([
        { gateway: smsChannel(one.url, asClocks(), { label: 'SMS 1' }), first: [] },
        { gateway: smsChannel(two.url, asClocks(), { name: 'sms2', label: 'SMS 2' }), first: [] },
      ]),
    );
    await look();
  });

  it('the coordinator hears by the other one that one is down, and when it is back; health says which', async () => {
    one.says(503);
    await says('reply', 3);
    await clinic.run(downAfterMs + 60_000);
    expect(two.calls).toHaveLength(3);
    await look();
    expect(toCoordinator(two)).toEqual([expect.stringContaining('SMS 1 takes none of my texts')]);
    const { ok, links } = await clinic.health();
    expect(ok).toBe(false);
    expect(links.sms).toMatchObject({ ways: { sms: { state: 'down' }, sms2: { state: 'ok' } } });
    one.says(202);
    clinic.pass(31_000);
    await says('reply');
    await clinic.line.settle();
    await look();
    expect(
      [...toCoordinator(one), ...toCoordinator(two)].filter((text) => text.includes('SMS 1: it works again')),
    ).toHaveLength(1);
    expect((await clinic.health()).ok).toBe(true);
  });
});

/** The line's own clocks, as they are moved. */
function asClocks(): { now: number; steady: number } {
  return {
    get now() {
      return clinic.now;
    },
    get steady() {
      return clinic.steady;
    },
  } as { now: number; steady: number };
}
