import { describe, expect, it } from 'vitest';
import { type DiametersRule, readDiameters } from '../../../src/conversation/answers/diameters.ts';

const rule: DiametersRule = {
  sides: { r: 'right', right: 'right', l: 'left', m: 'isthmus' },
  maxNodules: 4,
  sideRequired: false,
};
const one = (mm: number[], side: 'right' | 'left' | 'isthmus' | null = null) => ({ side, mm, mmRange: null });

describe('sizes', () => {
  it.each([
    ['22x15x14', [one([22, 15, 14])]],
    ['22 15 14', [one([22, 15, 14])]],
    ['22*15*14', [one([22, 15, 14])]],
    ['22X15×14mm', [one([22, 15, 14])]],
    ['22х15х14', [one([22, 15, 14])]],
    ['22 by 15 by 14', [one([22, 15, 14])]],
    ['22,15,14', [one([22, 15, 14])]],
    ['22, 15, 14', [one([22, 15, 14])]],
    ['22-15-14', [one([22, 15, 14])]],
    ['22/15/14', [one([22, 15, 14])]],
    ['14x15x22', [one([14, 15, 22])]],
    ['2.2x1.5x1.4cm', [one([22, 15, 14])]],
    ['2.2*1.5*1.4cm', [one([22, 15, 14])]],
    ['2,2 x 1,5 x 1,4 cm', [one([22, 15, 14])]],
    ['2.2cm x 1.5cm x 1.4cm', [one([22, 15, 14])]],
    ['22mm x 1.5cm x 14mm', [one([22, 15, 14])]],
    ['1.05 cm', [one([10.5])]],
    ['22.5x15x14', [one([22.5, 15, 14])]],
    ['3x3x2 mm', [one([3, 3, 2])]],
    ['22', [one([22])]],
    ['٢٢×١٥×١٤', [one([22, 15, 14])]],
    ['R 22x15x14', [one([22, 15, 14], 'right')]],
    ['r22x15x14', [one([22, 15, 14], 'right')]],
    ['R: 22 15 14', [one([22, 15, 14], 'right')]],
    ['R - 22x15x14', [one([22, 15, 14], 'right')]],
    ['22x15x14 R', [one([22, 15, 14], 'right')]],
    ['R 22x15x14 L 8x6x6', [one([22, 15, 14], 'right'), one([8, 6, 6], 'left')]],
    ['R 22 15 14\nL 8 6 6', [one([22, 15, 14], 'right'), one([8, 6, 6], 'left')]],
    ['R 22x15x14, M 8', [one([22, 15, 14], 'right'), one([8], 'isthmus')]],
    ['22x15x14 R, 8x6x6 L', [one([22, 15, 14], 'right'), one([8, 6, 6], 'left')]],
    ['R 22x15x14 L 8x6x6 mm', [one([22, 15, 14], 'right'), one([8, 6, 6], 'left')]],
    ['22x15x14; 8x6x6', [one([22, 15, 14]), one([8, 6, 6])]],
  ])('are read from %j', (text, nodules) => {
    expect(readDiameters(text, rule)).toEqual({ ok: true, value: nodules });
  });

  it('are read as a range', () => {
    expect(readDiameters('R 12-16', rule)).toEqual({
      ok: true,
      value: [{ side: 'right', mm: null, mmRange: [12, 16] }],
    });
    expect(readDiameters('1.2 - 1.6 cm', rule)).toEqual({
      ok: true,
      value: [{ side: null, mm: null, mmRange: [12, 16] }],
    });
  });

  it.each([
    ['centimetres without their unit', '2.2x1.5x1.4', 'needs-unit'],
    ['whole centimetres without their unit', '3x2x2', 'needs-unit'],
    ['a unit in the middle', '22mm x 15 x 14', 'needs-unit'],
    ['a unit behind the last nodule only, which cannot be for both', 'R 22x15x14 L 8x6x6 cm', 'needs-unit'],
    ['two of three: the one left out may be the biggest', 'R 22x15', 'needs-third'],
    ['two of three for the second nodule', 'R 22x15x14 L 8x6', 'needs-third'],
    ['two of three in centimetres', '2.2x1.5 cm', 'needs-third'],
    ['millimetres called centimetres', '22x15x14 cm', 'out-of-range'],
    ['a digit too many', '220x15x14', 'out-of-range'],
    ['zero', '0', 'out-of-range'],
    ['a diameter far from the others', '22x15x140', 'unlikely-size'],
    ['one comma that could be either', '22,15', 'not-a-size'],
    ['two numbers with a space', '22 15', 'not-a-size'],
    ['six numbers with spaces', '22 15 14 8 6 6', 'not-a-size'],
    ['a falling range', '16-12', 'not-a-size'],
    ['a missing number', '22x15x', 'not-a-size'],
    ['a number that begins with its point', '.8x.6 cm', 'not-a-size'],
    ['a number that begins with its comma', ',8 cm', 'not-a-size'],
    ['a half', '22½', 'not-a-size'],
    ['words', 'R big 22', 'not-a-size'],
    ['a side alone', 'R', 'not-a-size'],
    ['four diameters', '22x15x14x3', 'not-a-size'],
    ['a side that could belong to both', '22x15x14 R 8x6x6', 'needs-side'],
    ['a second nodule without its side', 'R 22x15x14 8x6x6', 'needs-side'],
    ['five nodules', '9x8x7; 9x8x7; 9x8x7; 9x8x7; 9x8x7', 'too-many-nodules'],
    ['nothing', '', 'empty'],
    ['10,000 characters', '22x'.repeat(3334), 'too-long'],
  ])('are asked again for %s', (_what, text, reason) => {
    expect(readDiameters(text, rule)).toEqual({ ok: false, reason });
  });

  it('need their side where the question asks for it', () => {
    const strict = { ...rule, sideRequired: true };
    expect(readDiameters('22x15x14', strict)).toEqual({ ok: false, reason: 'needs-side' });
    expect(readDiameters('R 22x15x14', strict).ok).toBe(true);
  });

  it('take unit words of the language', () => {
    expect(readDiameters('2.2x1.5x1.4 см', { ...rule, units: { см: 'cm' } })).toEqual({
      ok: true,
      value: [one([22, 15, 14])],
    });
  });

  it('stand once the unit is written, however unlike they are', () => {
    expect(readDiameters('80x60x5 mm', rule)).toEqual({ ok: true, value: [one([80, 60, 5])] });
  });
});
