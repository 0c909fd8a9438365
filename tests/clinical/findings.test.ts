import { describe, expect, it } from 'vitest';
import { findingsChoices, parseFindings } from '../../src/clinical/findings.ts';
import { assess } from '../../src/clinical/indication.ts';
import { knownFindings } from '../../src/clinical/known.ts';
import { adult, look } from '../published/look.ts';

const read = (input: unknown) => {
  const parsed = parseFindings(input);
  return parsed.ok ? parsed.findings : parsed.refusal;
};
const known = (input: unknown) => {
  const parsed = parseFindings(input);
  if (!parsed.ok) throw new Error(parsed.refusal.path);
  return knownFindings(parsed.findings);
};

describe('findings at the door', () => {
  it.each<[unknown, string, RegExp]>([
    [{ weight: 3 }, 'weight', /no such field/],
    [{ patient: { age: 3 } }, 'patient.age', /no such field/],
    [{ nodules: [{}, { colour: 'red' }] }, 'nodules.1.colour', /no such field/],
    [{ patient: { ageYears: 121 } }, 'patient.ageYears', /0 to 120/],
    [{ patient: { ageYears: '43' } }, 'patient.ageYears', /a number/],
    [{ patient: null }, 'patient', /an object/],
    [{ dangerSigns: ['cough'] }, 'dangerSigns.0', /stridor/],
    [{ dangerSigns: 'stridor' }, 'dangerSigns', /a list/],
    [{ tsh: 'medium' }, 'tsh', /low, normal, high, unknown/],
    [{ examined: 'yes' }, 'examined', /true, false or unknown/],
    [{ nodules: [{ mm: [0] }] }, 'nodules.0.mm.0', /0.1 to 200/],
    [{ nodules: [{ mm: [] }] }, 'nodules.0.mm', /one to three/],
    [{ nodules: [{ mm: [1, 2, 3, 4] }] }, 'nodules.0.mm', /one to three/],
    [{ nodules: [{ mmRange: [16, 12] }] }, 'nodules.0.mmRange', /least size first/],
    [{ nodules: [{ id: 'a' }, { id: 'a' }] }, 'nodules', /different id/],
    [{ nodules: {} }, 'nodules', /a list of nodules/],
    [{ inr: 0 }, 'inr', /0.5 to 20/],
    [{ inrAgeHours: -1 }, 'inrAgeHours', /0 to 8760/],
    [{ lump: ['soft'] }, 'lump.0', /pulsates/],
    [{ nodules: [{ palpable: 'yes' }] }, 'nodules.0.palpable', /true, false or unknown/],
    [[], '', /object/],
    [JSON.parse('{"__proto__":{"tsh":"low"}}'), '__proto__', /no such field/],
  ])('%j is refused at its path', (input, path, expected) => {
    expect(read(input)).toMatchObject({ path, expected: expect.stringMatching(expected) });
  });

  it('accepts every value of every closed list, and "unknown" beside it', () => {
    const { composition, dangerSigns, foci, lump, tsh } = findingsChoices;
    for (const value of composition) expect(read({ nodules: [{ composition: value }] })).toHaveProperty('nodules');
    for (const value of tsh) expect(read({ tsh: value })).toEqual({ tsh: value });
    expect(read({ dangerSigns: [...dangerSigns, 'unknown'] })).toHaveProperty('dangerSigns');
    expect(read({ nodules: [{ foci: [...foci, 'unknown'] }] })).toHaveProperty('nodules');
    expect(read({ lump: [...lump, 'unknown'] })).toHaveProperty('lump');
  });

  it.each([
    [{ dangerSigns: 'unknown' }],
    [{ dangerSigns: ['unknown'] }],
    [{ lump: 'unknown', inrAgeHours: 'unknown', changedSinceInr: 'unknown' }],
    [{ patient: 'unknown', ultrasound: 'unknown', nodules: 'unknown' }],
    [{ patient: { ageYears: 'unknown', sex: 'unknown', pregnant: 'unknown', pregnantWeeks: 'unknown' } }],
    [{ tsh: 'unknown', scan: 'unknown', inr: 'unknown', platelets: 'unknown', examined: 'unknown' }],
    [{ ultrasound: { done: 'unknown', mhz: 'unknown', probe: 'unknown', standoff: 'unknown' } }],
  ])('%j means the same as nothing said', (input) => {
    expect(known(input)).toEqual(known({}));
  });

  it('a nodule whose every value is "unknown" is a nodule of which nothing is said', () => {
    const unknown = {
      site: 'unknown',
      palpable: 'unknown',
      mm: 'unknown',
      mmRange: 'unknown',
      composition: 'unknown',
      spongiformWhole: 'unknown',
      solidPartMm: 'unknown',
      eccentric: 'unknown',
      echogenicity: 'unknown',
      hypoechoicPart: 'unknown',
      shape: 'unknown',
      margin: 'unknown',
      capsule: 'unknown',
      foci: ['unknown'],
    };
    expect(known({ nodules: [unknown] })).toEqual(known({ nodules: [{}] }));
  });

  it('an empty list means none, an absent one means not asked', () => {
    expect(known({ risks: [] }).risks).toEqual({ present: [], open: false });
    expect(known({}).risks).toEqual({ present: [], open: true });
    expect(known({ risks: ['pet-focus', 'unknown'] }).risks).toEqual({ present: ['pet-focus'], open: true });
  });

  it('takes the largest diameter as the size, and a range as far as it goes', () => {
    const sizes = known({ nodules: [{ mm: [15, 22, 14] }, { mmRange: [12, 16] }, { mm: [18], mmRange: [12, 16] }] });
    expect(sizes.nodules?.map(({ size }) => size)).toEqual([
      { least: 22, most: 22 },
      { least: 12, most: 16 },
      { least: 12, most: 18 },
    ]);
  });

  it('findings that are told twice in a list count once', () => {
    const once = adult(look('solid iso wide smooth tiny', 12));
    const twice = adult({ ...look('solid iso wide smooth tiny', 12), foci: ['punctate', 'punctate'] });
    expect(assess(twice)).toEqual(assess(once));
  });
});
