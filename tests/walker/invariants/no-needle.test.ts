import { expect, it } from 'vitest';
import { answer, codeIssued, leftLump, madeUp, opened, truth } from './made-up.ts';
import { noNeedle } from './no-needle.ts';

const lump = { ...truth({}).lumps[0]!, side: 'left' as const };

it.each([
  ['a child', answer('patient.birthYear', 2021)],
  ['a hot nodule', answer('scan', 'hot')],
  ['a bleeding disorder', answer('bleeding', ['bleeding-disorder'])],
  ['too few platelets', answer('platelets', 15)],
  ['a pulsating lump', answer('lump', ['pulsates'])],
])('a needle for %s is a breach', (why, said) => {
  const of = truth({ lumps: [{ ...lump, felt: true }] });
  const walked = madeUp([opened, ...leftLump, answer('felt', ['left']), said, codeIssued()], { truth: of });
  expect(noNeedle.broken(walked)).toEqual([`code-issued for ${why}`]);
});

it('a needle into what nobody felt is a breach where nothing guides it, and none where ultrasound does', () => {
  const said = [opened, ...leftLump, answer('felt', ['right']), answer('ultrasound.done', true), codeIssued()];
  const of = truth({ lumps: [{ ...lump, felt: false }] });
  expect(noNeedle.broken(madeUp(said, { truth: of, guidance: false }))).toHaveLength(1);
  const unasked = said.filter((one) => !('field' in one && one.field === 'felt'));
  expect(noNeedle.broken(madeUp(unasked, { truth: of, guidance: false }))).toHaveLength(1);
  expect(noNeedle.broken(madeUp(said, { truth: of, guidance: true }))).toEqual([]);
});
