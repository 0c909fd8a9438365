import { expect, it } from 'vitest';
import type { CaseEvent } from '../../../src/case/events.ts';
import { alarmLifted } from './alarm-lifted.ts';
import { answer, asks, codeIssued, madeUp, opened } from './made-up.ts';

const raised = (sign = 'swelling'): CaseEvent => ({ type: 'sos-raised', sign });
const over: CaseEvent = { type: 'sos-over', outcome: 'well-again' };
const allowed = answer('alarm-allowed', true);
const needle = (number: string) => {
  const ask = { ...asks('attempt', [], 's1'), options: [{ id: 'material', reply: `${number}1`, label: '' }] };
  return { kind: 'said', flow: 'sampling', ask } as const;
};

it('a try that begins after an alarm of the day is a breach', () => {
  expect(alarmLifted.broken(madeUp([opened, raised(), over, codeIssued(), needle('1')]))).toEqual([
    'try s1 11 on the day of an alarm, and no doctor has allowed it since',
  ]);
  const tried = madeUp([opened, codeIssued(), needle('1'), raised(), over, needle('2')]);
  expect(alarmLifted.broken(tried)).toEqual(['try s1 21 on the day of an alarm, and no doctor has allowed it since']);
});

it('a yes to an earlier alarm lifts no later one', () => {
  const begun = [opened, raised(), over, allowed, codeIssued(), needle('1'), raised(), over];
  expect(alarmLifted.broken(madeUp([...begun, needle('2')]))).toHaveLength(1);
  expect(alarmLifted.broken(madeUp([...begun, allowed, needle('2')]))).toEqual([]);
});

it('the try that was begun before it, a needle-stick of the worker and another day are none', () => {
  expect(alarmLifted.broken(madeUp([opened, codeIssued(), needle('1'), raised(), over, needle('1')]))).toEqual([]);
  expect(
    alarmLifted.broken(madeUp([opened, raised('not-said'), raised('needle-stick'), over, codeIssued(), needle('1')])),
  ).toEqual([]);
  expect(alarmLifted.broken(madeUp([opened, raised(), over, 30, codeIssued(), needle('1')]))).toEqual([]);
});
