import { describe, expect, it } from 'vitest';
import type { Findings } from '../../src/clinical/findings.ts';
import { assess } from '../../src/clinical/indication.ts';
import { rememberedBy, rememberedOf } from '../../src/clinical/remembered.ts';

describe('what was made of the same before', () => {
  it('is given again, as often as it is asked for', () => {
    let made = 0;
    const squares = rememberedBy(9, String, (of: number) => ({ made: ++made, square: of * of }));
    expect([squares(3), squares(4), squares(3)].map(({ square }) => square)).toEqual([9, 16, 9]);
    expect(made).toBe(2);
  });

  it('is forgotten in the order in which it was first made, once there is too much of it', () => {
    const made: number[] = [];
    const kept = rememberedBy(2, String, (of: number) => ({ of: made.push(of) }));
    for (const of of [1, 2, 1, 3, 2, 1]) kept(of);
    expect(made).toEqual([1, 2, 3, 1]);
  });

  it('is of this very object, and of what goes with it', () => {
    const made: string[] = [];
    const kept = rememberedOf((of: object, also: string) => ({ of: made.push(JSON.stringify(of) + also) }));
    const [one, other] = [{ a: 1 }, { a: 1 }];
    kept(one, 'x');
    kept(one, 'y');
    kept(other, 'x');
    kept(one, 'x');
    expect(made).toEqual(['{"a":1}x', '{"a":1}y', '{"a":1}x']);
  });

  it('never mixes two patients: the same lump is another decision beside other findings', () => {
    const lump: NonNullable<Findings['nodules']>[number] = {
      id: 'n1',
      site: 'right',
      mm: [22, 15, 14],
      composition: 'solid',
      echogenicity: 'hypoechoic',
    };
    const of = (more: Findings): Findings => ({
      patient: { ageYears: 44, sex: 'female' },
      dangerSigns: [],
      risks: [],
      bleeding: [],
      examined: true,
      palpable: true,
      tsh: 'normal',
      ultrasound: { done: true, mhz: 10, probe: 'linear' },
      nodules: [lump],
      ...more,
    });
    const first = assess(of({}));
    expect(assess(of({ bleeding: ['bleeding-disorder'] })).decision).not.toBe(first.decision);
    expect(assess(of({ nodules: [{ ...lump, mm: [4, 4, 4] }] })).decision).not.toBe(first.decision);
    expect(assess(of({}))).toEqual(first);
    expect(assess(of({ nodules: [{ ...lump, id: 'n7' }] })).nodules.map(({ id }) => id)).toEqual(['n7']);
  });
});
