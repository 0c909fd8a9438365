import { expect, it } from 'vitest';
import type { CaseEvent } from '../../../src/case/events.ts';
import { asExamined } from './as-examined.ts';
import { answer, asks, codeIssued, leftLump, madeUp, nodeCodeIssued, opened } from './made-up.ts';

const needle: CaseEvent = { type: 'attempted', specimen: 's1', attempt: 1, outcome: 'material' };
const pencil = (text: string) => ({ kind: 'said', flow: 'ready', ask: asks('slide-code', [], 's1'), text }) as const;
const begun = [opened, ...leftLump, codeIssued()];

it('a needle into the side or the size of before a correction is a breach', () => {
  expect(asExamined.broken(madeUp([...begun, answer('site', 'right', 'n1'), needle]))).toEqual([
    's1 is of the left, the right was said last',
  ]);
  expect(asExamined.broken(madeUp([...begun, answer('mm', [31, 15, 14], 'n1'), needle]))).toEqual([
    's1 is of 22 mm, 31 mm were said last',
  ]);
});

it('a side that was felt elsewhere, and a node of the other side, are breaches', () => {
  const target = { kind: 'nodule', nodule: null, side: 'left', mm: [22], place: null };
  const felt = { ...codeIssued(), target } as CaseEvent;
  expect(asExamined.broken(madeUp([opened, felt, answer('felt', ['right']), needle]))).toHaveLength(1);
  expect(asExamined.broken(madeUp([opened, nodeCodeIssued, answer('site', 'right', 'node'), needle]))).toHaveLength(1);
});

it('glass that was pencilled before the correction is a breach', () => {
  const text = 'CODE 4829 1354. Write NAME, CODE, R 22mm, 1/4 to 4/4.';
  expect(asExamined.broken(madeUp([...begun, pencil(text), needle]))).toEqual([
    'pencil of s1 is of the right, the left was said last',
  ]);
});

it('a needle into what was said last, and a correction after it, are none', () => {
  const text = 'CODE 4829 1354. Write NAME, CODE, L 22mm, 1/4 to 4/4.';
  expect(asExamined.broken(madeUp([...begun, pencil(text), needle]))).toEqual([]);
  expect(asExamined.broken(madeUp([...begun, pencil(text), needle, answer('site', 'right', 'n1')]))).toEqual([]);
});
