import { expect, it } from 'vitest';
import type { CaseEvent } from '../../src/case/events.ts';
import { chanceOf } from '../simulation/chance.ts';
import { answer, leftLump, madeUp, opened, truth } from './invariants/made-up.ts';
import { asSaid, lineToCorrect, mistakenOf } from './mistaken.ts';

const real = { ...truth({}).lumps[0]!, side: 'right', mm: [22, 15, 14], felt: true } as const;
const patient = truth({ lumps: [real], mistaken: [{ ...real, side: 'left' }] });
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

it('a lump too many is said first and is the largest of its side; sent again, it is gone', () => {
  const drawn = Array.from({ length: 200 }, (_, seed) => mistakenOf(chanceOf(seed), [real], 0.5));
  const tooMany = drawn.flatMap((said) => (said?.length === 2 ? [said] : []));
  expect(tooMany.length).toBeGreaterThan(10);
  for (const [none, lump] of tooMany) {
    expect(lump).toBe(real);
    expect(none!.side).toBe('right');
    expect(none!.mm[0]).toBeGreaterThan(real.mm[0]);
  }
  const said = { ...patient, mistaken: tooMany[0]! };
  const asSent = [
    opened,
    answer('nodules', ['n1', 'n2']),
    answer('site', 'right', 'n1'),
    answer('mm', [40, 30, 20], 'n1'),
  ];
  const of = madeUp(asSent).of;
  expect(asSaid(said, of, 'composition', 'n2').lumps).toHaveLength(2);
  expect(asSaid(said, of, 'mm', 'n1').lumps).toHaveLength(2);
  expect(asSaid(said, of, 'mm').lumps).toEqual([real]);
});
