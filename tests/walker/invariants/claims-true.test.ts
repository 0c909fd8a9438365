import { expect, it } from 'vitest';
import { claimsTrue } from './claims-true.ts';
import { madeUp, opened } from './made-up.ts';

it('a text that claimed what was not so is a breach', () => {
  const line = '2030-03-12 decision.noted to w: "AK: noted and closed." (the case is closed)';
  expect(claimsTrue.broken(madeUp([opened], { untrue: [line] }))).toEqual([line]);
});

it('a patient of whom only the truth was said is none', () => {
  expect(claimsTrue.broken(madeUp([opened]))).toEqual([]);
});
