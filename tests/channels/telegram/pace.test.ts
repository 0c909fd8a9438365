import { describe, expect, it } from 'vitest';
import { Pace } from '../../../src/channels/telegram/pace.ts';

const start = 1_000_000;

describe('the pace of sending', () => {
  it('to one chat: a burst of five, then one a second', () => {
    const pace = new Pace();
    for (let n = 0; n < 5; n += 1) expect(pace.take('1', false, start)).toBeNull();
    expect(pace.take('1', false, start)).toBe(start + 1000);
    expect(pace.take('1', false, start + 999)).toBe(start + 1000);
    expect(pace.take('1', false, start + 1000)).toBeNull();
  });

  it('to everybody: thirty at once, then thirty a second', () => {
    const pace = new Pace();
    for (let n = 0; n < 30; n += 1) expect(pace.take(`c${n}`, false, start)).toBeNull();
    const free = pace.take('c30', false, start);
    expect(free).toBeGreaterThan(start);
    expect(pace.take('c30', false, free!)).toBeNull();
  });

  it('first aid is held back by nothing but the network itself', () => {
    const pace = new Pace();
    for (let n = 0; n < 5; n += 1) pace.take('1', false, start);
    expect(pace.take('1', true, start)).toBeNull();
    pace.pause('1', start + 3000, start);
    expect(pace.take('1', true, start)).toBe(start + 3000);
  });

  it('a pause of one chat is nobody else`s', () => {
    const pace = new Pace();
    pace.pause('1', start + 3000, start);
    expect(pace.take('2', false, start)).toBeNull();
  });

  it('a clock that goes back adds nothing and holds up nothing for good', () => {
    const pace = new Pace();
    for (let n = 0; n < 5; n += 1) pace.take('1', false, start);
    expect(pace.take('1', false, start - 60_000)).toBeGreaterThan(start - 60_000);
    expect(pace.take('1', false, start)).toBeNull();
  });

  it('remembers a bounded number of chats', () => {
    const pace = new Pace();
    for (let n = 0; n < 10_000; n += 1) pace.take(`c${n}`, false, start + n * 100);
    const chats = (pace as unknown as { chats: Map<string, unknown> }).chats;
    expect(chats.size).toBeLessThanOrEqual(2_000);
  });
});
