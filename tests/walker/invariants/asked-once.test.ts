import { expect, it } from 'vitest';
import { askedOnce } from './asked-once.ts';
import { answer, asks, madeUp, opened } from './made-up.ts';

const tsh = { kind: 'said', flow: 'new', step: 'tsh', text: 'TSH?', ask: asks('tsh', ['normal', 'low']) } as const;
const reply = { kind: 'sent', text: '1', ids: ['normal'], ask: tsh.ask } as const;

it('a question that comes again although nothing was found anew is a breach', () => {
  expect(askedOnce.broken(madeUp([opened, tsh, reply, tsh]))).toEqual(['new.tsh again: "TSH?"']);
});

it('one that comes again after a slip, a new finding or another day is none', () => {
  expect(askedOnce.broken(madeUp([opened, tsh, { ...reply, slip: 'unreadable' }, tsh]))).toEqual([]);
  expect(askedOnce.broken(madeUp([opened, tsh, reply, answer('tsh', 'normal'), tsh]))).toEqual([]);
  expect(askedOnce.broken(madeUp([opened, tsh, reply, 24, tsh]))).toEqual([]);
});
