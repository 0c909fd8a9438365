import { expect, it } from 'vitest';
import { madeUp, opened } from './made-up.ts';
import { owed } from './owed.ts';

const open = madeUp([opened]);

it('an open case of which nobody is reminded, or whose worker is gone, is a breach', () => {
  expect(owed.broken({ ...open, endedAt: open.endedAt + 30 * 86_400_000 })).toHaveLength(1);
  expect(owed.broken({ ...open, reachable: () => false })).toEqual(['findings: carried by w, who cannot be reached']);
});

it('one that is owed in time by somebody who can be reached, and a closed one, are none', () => {
  expect(owed.broken(open)).toEqual([]);
  expect(owed.broken(madeUp([opened, { type: 'closed', outcome: 'no-sampling' }]))).toEqual([]);
});
