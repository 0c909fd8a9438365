import { describe, expect, it } from 'vitest';
import { type RosterOptions, readRoster } from '../../src/cli/roster-file.ts';
import type { Person } from '../../src/conversation/world.ts';
import { shipped } from '../support/shipped.ts';

const read = (lines: readonly string[], known: readonly Person[] = [], options: RosterOptions = {}) =>
  readRoster(`name,roles,channel,address,site,locale\n${lines.join('\n')}\n`, shipped, known, false, options);

const both = 'Dr Tano,doctor,sms|telegram,+000555010003|7001003,oruma,en';

describe('somebody with an address on each of two channels', () => {
  it('is one person, whose texts go to the first one', () => {
    const { people, faults } = read([both]);
    expect(faults).toEqual([]);
    expect(people.map((one) => one.addresses)).toEqual([
      [
        { channel: 'sms', address: '+000555010003' },
        { channel: 'telegram', address: '7001003' },
      ],
    ]);
  });

  it('is the same person when the file comes again, and when it has one of the two only', () => {
    const { people: known } = read([both]);
    for (const line of [both, 'Dr Tano,doctor,sms,+000555010003,oruma,en']) {
      const again = read([line], known);
      expect(again.people).toEqual(known);
      expect(again.taken.map((one) => one.as)).toEqual(['same']);
    }
  });

  it('keeps id and rank when the second one is added, and this is a change', () => {
    const { people: known } = read(['Dr Tano,doctor,sms,+000555010003,oruma,en']);
    const { people, taken } = read([both], known);
    expect(people).toEqual([
      { ...known[0], addresses: [...known[0]!.addresses, { channel: 'telegram', address: '7001003' }] },
    ]);
    expect(taken).toEqual([{ line: 2, as: 'changed', changes: ['an address of theirs'] }]);
  });

  it('gets another number in place of the one there with --change only', () => {
    const { people: known } = read([both]);
    const moved = both.replace('+000555010003', '+000555010099');
    expect(read([moved], known).faults).toEqual([
      { line: 2, expected: 'the address that Dr Tano has there now; another one takes roster import --change' },
    ]);
    expect(read([moved], known, { change: true }).people[0]!.addresses).toEqual([
      { channel: 'telegram', address: '7001003' },
      { channel: 'sms', address: '+000555010099' },
    ]);
  });

  it.each([
    ['fewer addresses than channels', 'Dr Tano,doctor,sms|telegram,+000555010003,oruma,en', 'as many addresses'],
    [
      'two of one channel',
      'Dr Tano,doctor,sms|sms,+000555010003|+000555010004,oruma,en',
      'one address of each channel',
    ],
    ['one of them not in its form', 'Dr Tano,doctor,sms|telegram,+000555010003|tano,oruma,en', 'a numeric user id'],
    ['one that an earlier line has', both.replace('7001003', '7001001'), 'an address that no earlier line has'],
  ])('is a bad line with %s', (_what, line, expected) => {
    const { people, faults } = read(['Ada Lumo,worker,telegram,7001001,oruma,en', line]);
    expect(people).toHaveLength(1);
    expect(faults).toEqual([{ line: 3, expected: expect.stringContaining(expected) }]);
  });

  it('never gets the address of somebody else along', () => {
    const { people: known } = read([both, 'Ada Lumo,worker,sms,+000555010001,oruma,en']);
    const taking = 'Ada Lumo,worker,sms|telegram,+000555010001|7001003,oruma,en';
    expect(read([taking], known, { change: true }).faults).toEqual([
      { line: 2, expected: 'addresses of one person: these are of Dr Tano and Ada Lumo' },
    ]);
  });
});
