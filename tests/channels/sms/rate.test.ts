import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { Lane } from '../../../src/conversation/effect.ts';
import { GatewayServer, smsChannel, smsMessage } from '../../support/gateway-server.ts';

let gateway: GatewayServer;
let clocks: { now: number; steady: number };

beforeEach(async () => {
  clocks = { now: Date.UTC(2030, 2, 4, 8), steady: 500 };
  gateway = await new GatewayServer().open();
});
afterEach(() => gateway.close());

const pass = (ms: number): void => {
  clocks.now += ms;
  clocks.steady += ms;
};
const message = (lane: Lane, text = 'x') => smsMessage(text, clocks.now, { lane });

describe('segments a second', () => {
  it('are as many as the operator allows, over a minute as over a second', async () => {
    const link = smsChannel(gateway.url, clocks, { perSecond: 5 });
    for (let tenth = 0; tenth < 600; tenth += 1) {
      for (let tries = 0; tries < 3; tries += 1) await link.send(message('notice'));
      pass(100);
    }
    // What it may begin with, and five in each second.
    expect(gateway.calls.length).toBeGreaterThanOrEqual(300);
    expect(gateway.calls.length).toBeLessThanOrEqual(305);
  });

  it('a text of several segments uses the room of several', async () => {
    const link = smsChannel(gateway.url, clocks, { perSecond: 1 });
    expect((await link.send(message('reply', 'word '.repeat(80)))).kind).toBe('sent');
    expect(await link.send(message('reply'))).toEqual({ kind: 'later', waitMs: 3_000, why: 'pace' });
    expect(link.room()).toEqual({ free: 0, waitMs: 3_000 });
    pass(3_000);
    expect((await link.send(message('reply'))).kind).toBe('sent');
  });

  it('hold back no SOS, and what it used is missing to the others', async () => {
    const link = smsChannel(gateway.url, clocks, { perSecond: 0.5 });
    expect((await link.send(message('reply'))).kind).toBe('sent');
    expect((await link.send(message('sos'))).kind).toBe('sent');
    expect((await link.send(message('sos'))).kind).toBe('sent');
    expect(await link.send(message('reply'))).toMatchObject({ kind: 'later', waitMs: 6_000 });
  });

  it('count by the time that passes, whatever the clock is set to', async () => {
    const link = smsChannel(gateway.url, clocks, { perSecond: 1 });
    await link.send(message('reply'));
    clocks.now += 48 * 3_600_000;
    expect(await link.send(message('reply'))).toMatchObject({ kind: 'later', why: 'pace' });
  });
});

describe('segments a day', () => {
  it('are counted from midnight to midnight of the programme, and what was counted before a restart goes on', async () => {
    const link = smsChannel(gateway.url, clocks, { perDay: 5 });
    link.restoreDay('sms', '2030-03-03', 90);
    link.restoreDay('sms', '2030-03-04', 2);
    await link.send(message('reply', 'word '.repeat(60)));
    expect(link.way(false).day).toEqual({ day: '2030-03-04', segments: 4, atMost: 5 });
    expect(link.isDayFull()).toBe(false);
    await link.send(message('reply'));
    expect(link.isDayFull()).toBe(true);
    // It holds back nothing by itself.
    expect((await link.send(message('reply'))).kind).toBe('sent');
    pass(16 * 3_600_000);
    expect(link.isDayFull()).toBe(false);
  });

  it('count what the gateway took and nothing else', async () => {
    const link = smsChannel(gateway.url, clocks, { perDay: 1 });
    gateway.says(503);
    await link.send(message('reply'));
    expect(link.isDayFull()).toBe(false);
  });
});
