import { expect, it } from 'vitest';
import type { Role } from '../../../src/conversation/world.ts';
import { codeIssued, decided, everybody, leftLump, madeUp, opened, person } from './made-up.ts';
import { owed } from './owed.ts';

const open = madeUp([opened]);
const posted = madeUp([
  ...[opened, decided('sample'), ...leftLump, codeIssued(), { type: 'code-checked', specimen: 's1' } as const],
  { type: 'slides-fixed', specimen: 's1', fixative: 'alcohol', slides: [] },
  { type: 'labelled', specimen: 's1' },
  { type: 'aftercare-done', outcome: 'well' },
  { type: 'posted', specimens: ['s1'], labId: 'velin' },
]);
const frozen = madeUp([opened, { type: 'frozen', why: 'wrong' }]);
const without = (...roles: readonly Role[]) =>
  everybody.filter((one) => !one.roles.some((role) => roles.includes(role)));

it('an open case of which nobody is reminded is a breach', () => {
  expect(owed.broken({ ...open, endedAt: open.endedAt + 30 * 86_400_000 })).toHaveLength(1);
});

it.each(['stopped', 'suspended', 'invited'] as const)(
  'one whose worker is %s, while a colleague could have it, is a breach',
  (state) => {
    const roster = [...without('worker'), person('worker', 'oruma', state), { ...person('worker', 'oruma'), id: 'w2' }];
    expect(owed.broken({ ...open, roster })).toEqual(['findings: findings of the worker, and none can be reached']);
  },
);

it('one of a clinic that has nobody is the coordinators’, and without them it is a breach', () => {
  expect(owed.broken({ ...open, roster: without('worker') })).toEqual([]);
  expect(owed.broken({ ...open, roster: without('worker', 'coordinator') })).toHaveLength(2);
});

it('a parcel whose laboratory has nobody, and a frozen case without any doctor, are breaches', () => {
  const other = [...without('lab'), person('lab', 'mora')];
  expect(owed.broken({ ...posted, roster: other })).toEqual(['posted: receipt of the lab, and none can be reached']);
  const off = [...without('doctor'), person('doctor', 'oruma', 'stopped')];
  expect(owed.broken({ ...frozen, roster: off })).toEqual(['findings: frozen of the doctor, and none can be reached']);
});

it('one that is owed in time by somebody who can be reached, and a closed one, are none', () => {
  for (const one of [open, posted, frozen]) expect(owed.broken(one)).toEqual([]);
  expect(owed.broken(madeUp([opened, { type: 'closed', outcome: 'no-sampling' }]))).toEqual([]);
});
