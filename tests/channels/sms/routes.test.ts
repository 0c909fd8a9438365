import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { downAfterMs, SmsRoutes } from '../../../src/channels/sms/routes.ts';
import type { Lane } from '../../../src/conversation/effect.ts';
import type { SendResult } from '../../../src/line/ports.ts';
import { GatewayServer, smsChannel, smsMessage } from '../../support/gateway-server.ts';

let one: GatewayServer;
let two: GatewayServer;
let clocks: { now: number; steady: number };
let routes: SmsRoutes;

beforeEach(async () => {
  clocks = { now: Date.UTC(2030, 2, 4, 8), steady: 500 };
  one = await new GatewayServer().open();
  two = await new GatewayServer().open();
  routes = new SmsRoutes([
    { gateway: smsChannel(one.url, clocks, { label: 'SMS 1' }), first: [] },
    { gateway: smsChannel(two.url, clocks, { name: 'sms2', label: 'SMS 2' }), first: ['+0005552', '+00055501'] },
  ]);
});
afterEach(() => {
  one.close();
  two.close();
});

const pass = (ms: number): void => {
  clocks.now += ms;
  clocks.steady += ms;
};
/** `home`: the last digits of a number of the first gateway. */
const send = (address: string, lane: Lane = 'reply', id = 'sms:a:m1'): Promise<SendResult> =>
  routes.send(smsMessage('x', clocks.now, { id, lane, to: { channel: 'sms', address } }));
const home = '+000555300001';
const counts = (): readonly number[] => [one.calls.length, two.calls.length];
const isDown = (): readonly boolean[] => routes.ways().map((way) => way.isDown);

describe('two gateways', () => {
  it.each([
    ['+000555300001', [1, 0]],
    ['+000555200001', [0, 1]],
    ['+000555010001', [0, 1]],
    ['+000555000001', [1, 0]],
  ])('a text to %s goes by the one whose prefix fits best', async (address, expected) => {
    expect(await send(address)).toEqual({ kind: 'sent' });
    expect(counts()).toEqual(expected);
  });

  it('one that is not there is stood in for once it is down, and takes its texts again when it is back', async () => {
    one.says(503);
    expect((await send(home)).kind).toBe('later');
    expect(counts()).toEqual([1, 0]);
    expect(isDown()).toEqual([false, false]);
    pass(downAfterMs);
    expect(isDown()).toEqual([true, false]);
    // The text that tries it is not lost by that.
    expect(await send(home)).toEqual({ kind: 'sent' });
    expect(counts()).toEqual([2, 1]);
    for (let more = 0; more < 10; more += 1) expect(await send(home)).toEqual({ kind: 'sent' });
    expect(counts()).toEqual([2, 11]);
    one.says(202);
    pass(31_000);
    expect(await send(home)).toEqual({ kind: 'sent' });
    expect(await send(home)).toEqual({ kind: 'sent' });
    expect(counts()).toEqual([4, 11]);
    expect(isDown()).toEqual([false, false]);
  });

  it('the first stands in for the second too', async () => {
    two.close();
    await send('+000555200001');
    pass(downAfterMs);
    expect(await send('+000555200001')).toEqual({ kind: 'sent' });
    expect(counts()).toEqual([1, 0]);
  });

  it('an SOS goes by the other at once, and tries none that is down', async () => {
    one.says(503);
    expect(await send(home, 'sos')).toEqual({ kind: 'sent' });
    expect(counts()).toEqual([1, 1]);
    pass(downAfterMs + 31_000);
    expect(await send(home, 'sos')).toEqual({ kind: 'sent' });
    expect(counts()).toEqual([1, 2]);
  });

  it('an SOS tries even one that is down when the other does not take it either', async () => {
    one.says(503);
    two.says(503);
    await send(home, 'sos');
    pass(downAfterMs + 31_000);
    one.says(202);
    expect(await send(home, 'sos')).toEqual({ kind: 'sent' });
  });

  it('a text that one of them may have taken goes by no other', async () => {
    one.answer = (response) => response.destroy();
    for (const lane of ['sos', 'reply', 'reminder'] as const) {
      expect((await send(home, lane)).kind).toBe('unsure');
      expect(two.calls).toHaveLength(0);
    }
    pass(downAfterMs);
    // Down by now, and tried: what it may have taken stays with it.
    expect((await send(home)).kind).toBe('unsure');
    expect(two.calls).toHaveLength(0);
  });

  it('a number that one refuses is tried by the other; what both refuse is refused, and so is one that nobody allows', async () => {
    one.says(400);
    expect(await send(home)).toEqual({ kind: 'sent' });
    two.says(400);
    expect(await send(home)).toEqual({ kind: 'refused', why: 'http-400' });
    expect(isDown()).toEqual([false, false]);
    const before = counts();
    expect(await send('+000666300001')).toEqual({ kind: 'refused', why: 'not-allowed' });
    expect(counts()).toEqual(before);
  });

  it('what the other refuses while the first is down is not refused for good', async () => {
    one.says(503);
    await send(home);
    pass(downAfterMs);
    two.says(400);
    expect((await send(home)).kind).toBe('later');
  });

  it('one that is only told to go slowly keeps its texts', async () => {
    const paced = smsChannel(one.url, clocks, { perSecond: 1 });
    routes = new SmsRoutes([
      { gateway: paced, first: [] },
      { gateway: smsChannel(two.url, clocks, { name: 'sms2' }), first: [] },
    ]);
    await send(home);
    expect(await send(home)).toMatchObject({ kind: 'later', why: 'pace' });
    expect(counts()).toEqual([1, 0]);
  });
});
