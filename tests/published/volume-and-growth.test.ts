import { describe, expect, it } from 'vitest';
import { assess } from '../../src/clinical/indication.ts';
import { type Diameters, grew, grewInDiameters, volumeMl } from '../../src/clinical/nodule.ts';

describe('volume of a nodule', () => {
  // pi/6 x the three diameters: letter on nodule volume, Thyroid 2022, doi 10.1089/thy.2022.0516.
  it.each<[Diameters, number]>([
    [[10, 10, 10], 0.524],
    [[12, 10, 8], 0.503],
    [[20, 15, 12], 1.885],
    [[30, 20, 18], 5.655],
    [[40, 30, 25], 15.708],
    [[45, 18, 16], 6.786],
  ])('%j mm are %d mL', (diameters, millilitres) => {
    expect(volumeMl(diameters)).toBeCloseTo(millilitres, 3);
  });

  it('is printed with two decimals, and only with three diameters', () => {
    const nodules = [{ id: 'a', mm: [22, 15, 14] }, { id: 'b', mm: [22, 15] }, { id: 'c' }];
    expect(assess({ nodules }).nodules.map((nodule) => nodule.volumeMl)).toEqual([2.42, null, null]);
  });
});

describe('growth since an earlier examination', () => {
  // Two diameters by 20 % and 2 mm: Durante C, et al. JAMA 2015;313:926. Volume: Haugen, Thyroid 2016;26:1 (over 50 %);
  // Tessler, J Am Coll Radiol 2017;14:587 (50 % or more). Columns: by diameters, ATA, ACR.
  it.each<[Diameters, Diameters, boolean, boolean, boolean]>([
    [[10, 8, 8], [12, 10, 8], true, true, true],
    [[6, 5, 5], [7.4, 6.2, 5], false, true, true],
    [[20, 15, 12], [24, 15, 12], false, false, false],
    [[20, 15, 12], [23, 17, 14], false, true, true],
    [[20, 15, 12], [22, 16, 13], false, false, false],
    [[10, 10, 10], [11.9, 11.9, 10], false, false, false],
    [[10, 10, 10], [12, 12, 10], true, true, true],
    [[9, 9, 9], [10.8, 10.8, 9], false, false, false],
    [[30, 20, 20], [33, 23, 22], false, false, false],
    [[20, 20, 20], [30, 20, 20], false, false, true],
    [[30, 20, 20], [25, 17, 16], false, false, false],
    // Exactly 20 % of a diameter in tenths, and one tenth less.
    [[14.5, 14.5, 5], [17.4, 17.4, 5], true, true, true],
    [[14.5, 14.5, 5], [17.3, 17.3, 5], false, false, false],
  ])('%j to %j', (old, now, byDiameters, ata, acr) => {
    expect(grewInDiameters(old, now)).toBe(byDiameters);
    expect(grew(old, now, 'ata')).toBe(ata);
    expect(grew(old, now, 'acr')).toBe(acr);
  });
});
