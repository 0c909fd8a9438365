import { expect, it } from 'vitest';
import { asks, codeIssued, leftLump, madeUp, opened } from './made-up.ts';
import { sameNames } from './same-names.ts';

const begun = [opened, ...leftLump, codeIssued()];
const label = (text: string) =>
  ({ kind: 'said', step: 'labelling.label', flow: 'labelling', code: '48291354', text }) as const;

it('a label that names the other side, a pencil line without size and a request with another code are breaches', () => {
  expect(sameNames.broken(madeUp([...begun, label('4829 1354 THYROID RIGHT 22x15x14 MM')]))).toHaveLength(1);
  const pencil = { kind: 'said', flow: 'ready', ask: asks('slide-code', [], 's1'), text: '4829 1354, L, 1/4' } as const;
  expect(sameNames.broken(madeUp([...begun, pencil]))[0]).toContain('pencil without its size');
  const request = { kind: 'said', step: 'posting.request', code: '48291354', text: '1111 2222 L 22x15x14' } as const;
  expect(sameNames.broken(madeUp([...begun, request]))[0]).toContain('request without its code');
});

it('a label that names the specimen as it is recorded is none', () => {
  expect(sameNames.broken(madeUp([...begun, label('4829 1354 THYROID LEFT\n22x15x14 MM')]))).toEqual([]);
});
