import { expect, it } from 'vitest';
import { codeAsSent } from './code-as-sent.ts';
import { codeIssued, leftLump, madeUp, opened } from './made-up.ts';

const lines = [opened, ...leftLump, codeIssued()];
const got = (code: string) => ({ kind: 'sent', by: 'w', text: `GOT ${code} 4` }) as const;
const received = { type: 'received', specimen: 's1', slides: 4 } as const;

it('a receipt of one code that is recorded of another specimen is a breach, of its own none', () => {
  expect(codeAsSent.broken(madeUp([...lines, got('11665512'), received]))).toEqual([
    'received of 48291354 for "GOT 11665512 4"',
  ]);
  expect(codeAsSent.broken(madeUp([...lines, got('48291354'), received]))).toEqual([]);
});
