import { expect, it } from 'vitest';
import { codeIssued, leftLump, madeUp, opened } from './made-up.ts';
import { specimenFirst } from './specimen-first.ts';

const label = { kind: 'said', flow: 'labelling', step: 'labelling.label', text: 'FNA' } as const;

it('an aftercare of nothing, and a label of a lump without its side, are breaches', () => {
  const nothing = madeUp([opened, { kind: 'said', flow: 'aftercare', text: 'Watch the neck' }]);
  expect(specimenFirst.broken(nothing)).toEqual(['no specimen at "Watch the neck"']);
  const sideless = madeUp([opened, codeIssued(false), label, { type: 'labelled', specimen: 's1' }]);
  expect(specimenFirst.broken(sideless)).toEqual([
    's1 without side or size at "FNA"',
    's1 without side or size at labelled',
  ]);
});

it('a label of a lump with side and size is none', () => {
  const whole = madeUp([opened, ...leftLump, codeIssued(), label, { type: 'labelled', specimen: 's1' }]);
  expect(specimenFirst.broken(whole)).toEqual([]);
});
