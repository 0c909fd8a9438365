import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { Line } from '../../src/line/line.ts';
import { LinkedLine } from '../support/linked-line.ts';
import { person } from '../support/links.ts';

const worker = person('w', 'worker', ['sms']);
const coordinator = person('c', 'coordinator', ['sms']);
const stranger = (address: string) => ({ channel: 'sms', address });

let line: LinkedLine;
beforeEach(async () => {
  line = await LinkedLine.open([worker, coordinator, person('d', 'doctor', ['sms'])]);
});
afterEach(() => line.close());

const call = (mark: string, more: object = {}) => ({ sos: false, numbers: [], mark, ...more });

/** What the coordinator hears because of it. */
async function heardFor(what: () => Promise<unknown>): Promise<string> {
  const before = line.heardBy('c').length;
  await what();
  await line.line.settle();
  return line.heardBy('c').slice(before).trim();
}
const noted = (...calls: ReturnType<typeof call>[]) =>
  heardFor(async () => {
    for (const one of calls) expect(await line.line.unreadable.note(one)).toBe(true);
  });
const looked = (minutes: number) =>
  heardFor(async () => {
    line.now += minutes * 60_000;
    await line.line.unreadable.look();
  });

describe('calls of a gateway that cannot be read', () => {
  it('are told at once, then once an hour with how many they were, and no more when they stop', async () => {
    expect(await noted(call('a'))).toMatch(/^SMS: texts came that I cannot read, 1 in all\./);
    expect(await noted(call('b'), call('c'), call('c'), call('b'))).toBe('');
    expect(await looked(59)).toBe('');
    expect(await looked(1)).toMatch(/cannot read, 2 in all\./);
    expect(await looked(300)).toBe('');
    expect(line.line.unreadable.facts()).toMatchObject({ count: 5 });
  });

  it('are told again while the gateway goes on bringing the same one', async () => {
    await noted(call('a'));
    line.now += 61 * 60_000;
    expect(await noted(call('a'))).toMatch(/cannot read, 1 in all\./);
  });

  it('are told no oftener by a line that starts over and over', async () => {
    await noted(call('a'));
    const again = new Line(line.line.options).unreadable;
    expect(await heardFor(() => again.note(call('b')))).toBe('');
    line.now += 61 * 60_000;
    expect(await heardFor(() => again.look())).toMatch(/cannot read, 1 in all\./);
  });

  it('are told though the clock was set back', async () => {
    await noted(call('a'));
    line.now -= 5 * 3_600_000;
    expect(await noted(call('b'))).toMatch(/cannot read, 1 in all\./);
  });

  it('with an SOS are an alarm at once, with the number, and once more each hour that the gateway brings it', async () => {
    await noted(call('a'));
    const sos = call('s', { sos: true, numbers: ['+000555019999'] });
    expect(await noted(sos)).toMatch(/^SOS in a text that I cannot read, from \+000555019999\. It got NO answer/);
    expect(line.sms.asked.at(-1)?.lane).toBe('sos');
    expect(await noted(sos)).toBe('');
    expect(await noted(call('t', { sos: true }))).toMatch(/I see no number in it\. Phone your clinics NOW/);
    line.now += 61 * 60_000;
    expect(await noted(sos)).toMatch(/^SOS in a text that I cannot read/m);
  });

  it('that nobody can be told of are not taken for told', async () => {
    line.store.commit = async (changes) => changes.map(() => 'unavailable');
    expect(await line.line.unreadable.note(call('a', { sos: true }))).toBe(false);
    expect(await line.line.unreadable.note(call('b'))).toBe(false);
  });
});

describe('a text from a number that does not say its country', () => {
  it('is told to the coordinators with the number, merged within the hour', async () => {
    const { unreadable } = line.line;
    expect(await heardFor(() => unreadable.noteSender('71234567'))).toMatch(
      /^SMS: a text came from 71234567, a number without its country \(1 such\)\. I cannot answer it/,
    );
    await unreadable.noteSender('71234568');
    await unreadable.noteSender('71234569');
    expect(await looked(61)).toMatch(/from 71234569.*\(2 such\)/);
  });

  it.each(['71234567', '1234', 'HELPLINE'])(
    'says SOS from %s: the coordinators hear, and nobody says that it got first aid',
    async (from) => {
      const told = await heardFor(() => line.hears(stranger(from), 'SOS she bleeds', 'SOS', 'hello'));
      expect(told).toBe(`SOS from ${from}. I cannot answer that number, so it got NO first aid. Call it NOW.`);
      expect(line.sms.asked.filter((one) => one.to.address === from)).toEqual([]);
    },
  );
});
