import { expect, it } from 'vitest';
import { chanceOf } from '../../simulation/chance.ts';
import { lumpOf } from '../lump.ts';
import { codeIssued, leftLump, madeUp, opened, truth } from './made-up.ts';
import { sideAsSaid } from './side-as-said.ts';

const lines = [opened, ...leftLump, codeIssued()];
const withLump = (side: 'right' | 'left') => ({
  truth: truth({ lumps: [lumpOf(chanceOf(1), side, 'upper', true)] }),
});

it('a specimen of the left from a patient whose only lump is on the right is a breach', () => {
  expect(sideAsSaid.broken(madeUp(lines, withLump('right')))).toHaveLength(1);
});

it('a specimen of the side that was felt is none', () => {
  expect(sideAsSaid.broken(madeUp(lines, withLump('left')))).toEqual([]);
});
