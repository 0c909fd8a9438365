import { expect, it } from 'vitest';
import { answer, codeIssued, leftLump, madeUp, nodeCodeIssued, opened, truth } from './made-up.ts';
import { noNeedle } from './no-needle.ts';

const lump = { ...truth({}).lumps[0]!, side: 'left' as const };

it.each([
  ['a child', answer('patient.birthYear', 2021)],
  ['a hot nodule', answer('scan', 'hot')],
  ['a bleeding disorder', answer('bleeding', ['bleeding-disorder'])],
  ['too few platelets', answer('platelets', 15)],
  ['a pulsating lump', answer('lump', ['pulsates'])],
  ['noisy breathing', answer('dangerSigns', ['stridor'])],
  ['an INR over 3', answer('inr', 3.1)],
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

it.each([
  ['a neck node that beats', ['beats']],
  ['a neck node that beats', ['beats', 'still']],
  ['a neck node of which nobody can tell if it beats', ['unknown']],
  ['a neck node that nobody has laid a finger on', []],
  ['a neck node that nobody has laid a finger on', ['still', null]],
])('a needle into %s (%j) is a breach', (why, said) => {
  const felt = said.map((one) => answer('node-pulse', one, 'node'));
  expect(noNeedle.broken(madeUp([opened, ...felt, nodeCodeIssued]))).toEqual([`code-issued for ${why}`]);
});

it('a needle into a neck node that does not beat, also after BACK, is none', () => {
  for (const said of [['still'], ['beats', null, 'still']]) {
    const felt = said.map((one) => answer('node-pulse', one, 'node'));
    expect(noNeedle.broken(madeUp([opened, ...felt, nodeCodeIssued]))).toEqual([]);
  }
});

it('a needle into one that was said to beat by a slip, and put right by BACK, is none', () => {
  const back = { kind: 'sent', text: 'B', slip: 'back' } as const;
  const said = [answer('node-pulse', 'beats', 'node'), back, answer('node-pulse', 'still', 'node')];
  expect(noNeedle.broken(madeUp([opened, ...said, nodeCodeIssued]))).toEqual([]);
});

it('a needle just above the collarbone is a breach where nothing guides it, and none where ultrasound does', () => {
  const low = [opened, answer('level', 'low', 'node'), answer('node-pulse', 'still', 'node')];
  expect(noNeedle.broken(madeUp([...low, nodeCodeIssued]))).toEqual([
    'code-issued for a neck node just above the collarbone, without guidance',
  ]);
  expect(noNeedle.broken(madeUp([...low, answer('ultrasound.done', true), nodeCodeIssued]))).toEqual([]);
});
