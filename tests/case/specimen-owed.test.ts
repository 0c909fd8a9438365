import { describe, expect, it } from 'vitest';
import { dutyOf, specimenOwed } from '../../src/case/duty.ts';
import type { CaseEvent } from '../../src/case/events.ts';
import { caseOf, filed, labelled, opened } from '../support/case-fixture.ts';

const hour = 3_600_000;
const durations: Readonly<Record<string, number>> = {
  receipt: 7 * 24 * hour,
  result: 10 * 24 * hour,
  'duty-action': 7 * 24 * hour,
  'duty-action-pressing': 24 * hour,
  'duty-again': 24 * hour,
};
const msOf = (name: string): number => durations[name] ?? 0;
const both: readonly CaseEvent[] = [
  ...opened,
  ...labelled('s1', 'n1', '48291354'),
  ...labelled('s2', 'n2', '11111157'),
  { type: 'aftercare-done', outcome: 'well-and-told' },
  { type: 'posted', specimens: ['s1', 's2'], labId: 'velin' },
];

describe('a case with two specimens', () => {
  it('is reminded of the specimen that lacks what is owed', () => {
    const of = caseOf([...both, { type: 'received', specimen: 's1', slides: 3 }]);
    expect(dutyOf(of, msOf, () => 0)?.what).toBe('receipt');
    expect(specimenOwed(of, 'receipt')).toBe('s2');
    expect(specimenOwed(of, 'result')).toBe('s1');
  });

  it.each([
    ['Thy4', 'action', 24 * hour],
    ['Thy5', 'action', 24 * hour],
    ['Thy2', 'receipt', 7 * 24 * hour],
  ] as const)('owes for %s of one lump while the other is still on its way: %s', (category, what, within) => {
    const of = caseOf([...both, filed('s1', category, category)]);
    const duty = dutyOf(of, msOf, () => 0)!;
    expect(of.status).toBe('posted');
    expect(duty.what).toBe(what);
    expect(duty.dueAt - (what === 'action' ? of.changedAt : of.statusAt)).toBe(within);
    expect(specimenOwed(of, what)).toBe(what === 'action' ? 's1' : 's2');
  });
});
