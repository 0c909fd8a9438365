import { expect, it } from 'vitest';
import type { CaseEvent } from '../../src/case/events.ts';
import { chanceOf } from '../simulation/chance.ts';
import { answer, leftLump, madeUp, opened, truth } from './invariants/made-up.ts';
import { asSaid, lineToCorrect } from './mistaken.ts';

const real = { ...truth({}).lumps[0]!, side: 'right', mm: [22, 15, 14], felt: true } as const;
const patient = truth({ lumps: [real], mistaken: { ...real, side: 'left' } });
const recordOf = (...events: readonly CaseEvent[]) => madeUp([opened, ...events]).of;
/** The lines that many workers would name. */
const named = (...events: readonly CaseEvent[]) =>
  new Set(Array.from({ length: 40 }, (_, seed) => lineToCorrect(patient, recordOf(...events), chanceOf(seed))));

it('the wrong side is said first, and the right one when the same is asked again', () => {
  expect(asSaid(patient, null, '').lumps[0]!.side).toBe('left');
  expect(asSaid(patient, recordOf(), 'mm').lumps[0]!.side).toBe('left');
  expect(asSaid(patient, recordOf(...leftLump), 'mm').lumps[0]!.side).toBe('right');
  expect(asSaid(patient, recordOf(answer('examined', true)), 'examined').lumps[0]!.side).toBe('right');
});

it('some see at the read-back that it is wrong: the measured lump first, then what was felt', () => {
  expect(named(...leftLump)).toEqual(new Set(['sizes', null]));
  const measured = [...leftLump, answer('site', 'right', 'n1')];
  expect(named(...measured, answer('felt', ['left']))).toEqual(new Set(['felt', null]));
  expect(named(...measured, answer('felt', ['right']))).toEqual(new Set([null]));
});
