import { expect, it } from 'vitest';
import type { CaseEvent } from '../../../src/case/events.ts';
import { codeIssued, filed, madeUp, opened } from './made-up.ts';
import { pressingOwed } from './pressing-owed.ts';

const reminded = { kind: 'said', step: 'duty.action-worker' } as const;
const told: CaseEvent = { type: 'told', specimen: 's1', outcome: 'agrees' };
const other = { kind: 'said', step: 'duty.receipt-worker' } as const;

it('a Thy5 of which nobody hears for days is a breach, also where the other jar is asked for', () => {
  const walked = madeUp([opened, codeIssued(), filed('Thy5'), 30, other, 30, other, 30, told]);
  expect(pressingOwed.broken(walked)).toEqual(['Thy5 of s1: 90 h, and nothing is said']);
});

it('one that the clinic is reminded of, one that was told, and a benign one are none', () => {
  expect(pressingOwed.broken(madeUp([opened, codeIssued(), filed('Thy5'), 24, reminded, 24, reminded]))).toEqual([]);
  expect(pressingOwed.broken(madeUp([opened, codeIssued(), filed('Thy5'), 2, told, 200]))).toEqual([]);
  expect(pressingOwed.broken(madeUp([opened, codeIssued(), filed('Thy2'), 200]))).toEqual([]);
});
