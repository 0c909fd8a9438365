import { expect, it } from 'vitest';
import { answer, madeUp, opened } from './made-up.ts';
import { saidInFull } from './said-in-full.ts';

const asked = (text: string, step = 'decision') => ({ kind: 'said', to: 'd', role: 'doctor', step, text }) as const;

it('a doctor who decides without the risk that was said is a breach, one who reads it none', () => {
  const said = [opened, answer('risks', ['family-medullary'])];
  expect(saidInFull.broken(madeUp([...said, asked('Q47 DECIDE AK')]))).toHaveLength(1);
  expect(saidInFull.broken(madeUp([...said, asked('Q47 DECIDE AK', 'urgent-decision-cyst')]))).toHaveLength(1);
  expect(saidInFull.broken(madeUp([...said, asked('Q47 DECIDE AK; medullary cancer in the family')]))).toEqual([]);
});
