import { describe, expect, it } from 'vitest';
import { findingsOf } from '../../src/case/findings-of.ts';
import { assess } from '../../src/clinical/indication.ts';
import { answered, caseOf } from '../support/case-fixture.ts';

const opened = { type: 'opened', tag: 'AK', siteId: 'oruma', ownerId: 'w', practice: false } as const;
const at2030 = { guidance: true, year: 2030 };

describe('the age of a case', () => {
  it.each([
    [2012, 17, 'refer-first'],
    [2013, 17, 'refer-first'],
    [2011, 19, 'examine-first'],
    [1982, 48, 'examine-first'],
  ])('born in %d counts as %d in 2030: %s', (birthYear, ageYears, decision) => {
    const of = caseOf([
      opened,
      answered('patient.birthYear', birthYear),
      answered('dangerSigns', []),
      answered('risks', []),
    ]);
    const findings = findingsOf(of, at2030);
    expect(findings.patient?.ageYears).toBe(ageYears);
    expect(assess(findings).decision).toBe(decision);
  });

  it('is as it was said where no year is known', () => {
    const findings = findingsOf(caseOf([opened, answered('patient.ageYears', 18)]), at2030);
    expect(findings.patient).toEqual({ ageYears: 18 });
  });
});

describe('what a case does not say', () => {
  it('stays absent: nobody who was not asked has said no', () => {
    expect(findingsOf(caseOf([opened]), at2030)).toEqual({});
  });

  it('is unknown where somebody could not tell', () => {
    const of = caseOf([
      opened,
      answered('nodules', ['n1']),
      answered('mm', [22, 15, 14], 'n1'),
      answered('composition', 'unknown', 'n1'),
      answered('eccentric', 'unknown', 'n1'),
      answered('solidPartMm', 'unknown', 'n1'),
      answered('foci', ['punctate', 'unknown'], 'n1'),
    ]);
    expect(findingsOf(of, at2030).nodules).toEqual([
      {
        id: 'n1',
        mm: [22, 15, 14],
        composition: 'unknown',
        eccentric: 'unknown',
        solidPartMm: 'unknown',
        foci: ['punctate', 'unknown'],
      },
    ]);
  });
});

describe('a needle under ultrasound', () => {
  it.each([
    [true, true, true],
    [true, false, false],
    [false, true, false],
  ])('scanned %s, at a site with guidance %s: guided %s', (done, guidance, guided) => {
    const of = caseOf([opened, answered('ultrasound.done', done)]);
    expect(findingsOf(of, { ...at2030, guidance }).guidance).toBe(guided);
  });

  it.each([
    [['right'], 'right', true],
    [['left'], 'right', false],
    [[], 'right', false],
  ])('felt on %j, the nodule %s: palpable %s', (felt, site, palpable) => {
    const of = caseOf([
      opened,
      answered('felt', felt),
      answered('nodules', ['n1']),
      answered('site', site, 'n1'),
      answered('mm', [22], 'n1'),
    ]);
    expect(findingsOf(of, at2030).nodules?.[0]?.palpable).toBe(palpable);
  });
});

describe('a dark part of a bright lump', () => {
  const told = (value: boolean | 'unknown') =>
    findingsOf(caseOf([opened, answered('nodules', ['n1']), answered('hypoechoicPart', value, 'n1')]), at2030);

  it('that nobody was asked for is not absent', () => {
    expect(told(false).nodules).toEqual([{ id: 'n1' }]);
    expect(told('unknown').nodules).toEqual([{ id: 'n1' }]);
  });

  it('that was named stands', () => {
    expect(told(true).nodules).toEqual([{ id: 'n1', hypoechoicPart: true }]);
  });
});

describe('which lump is felt', () => {
  const lump = (id: string, site: string) => [answered('site', site, id), answered('mm', [20, 15, 12], id)];
  const scanned = (felt: readonly string[], ...lumps: readonly (readonly [string, string])[]) => [
    opened,
    answered('examined', true),
    answered('felt', [...felt]),
    answered('ultrasound.done', true),
    answered(
      'nodules',
      lumps.map(([id]) => id),
    ),
    ...lumps.flatMap(([id, site]) => lump(id, site)),
  ];
  const feltOf = (events: Parameters<typeof caseOf>[0]) => {
    const { palpable, nodules } = findingsOf(caseOf(events), at2030);
    return [palpable, ...(nodules ?? []).map((one) => one.palpable)];
  };

  it('is told by the side where each side has one lump', () => {
    expect(feltOf(scanned(['left'], ['n1', 'right'], ['n2', 'left']))).toEqual([true, false, true]);
    expect(feltOf(scanned(['right', 'left'], ['n1', 'right'], ['n2', 'left']))).toEqual([true, true, true]);
    expect(feltOf(scanned([], ['n1', 'right']))).toEqual([false, false]);
  });

  it('stays unknown where two lie on the side that is felt, until it is asked of each', () => {
    const two = scanned(['right'], ['n1', 'right'], ['n2', 'right']);
    expect(feltOf(two)).toEqual([true, undefined, undefined]);
    expect(feltOf([...two, answered('palpable', 'yes', 'n1'), answered('palpable', 'unknown', 'n2')])).toEqual([
      true,
      true,
      'unknown',
    ]);
    expect(feltOf([...two, answered('palpable', 'no', 'n1')])).toEqual([true, false, undefined]);
  });

  it('is the answer about the lump itself before the side', () => {
    expect(feltOf([...scanned(['right'], ['n1', 'right']), answered('palpable', 'no', 'n1')])).toEqual([true, false]);
  });
});

describe('danger signs asked in three questions', () => {
  const signsOf = (...answers: readonly (readonly [string, unknown])[]) =>
    findingsOf(caseOf([opened, ...answers.map(([field, value]) => answered(field, value as never))]), at2030);

  it('are none only when all three were answered', () => {
    const all = [
      ['asked.breathing', true],
      ['asked.story', true],
      ['asked.lump', true],
    ] as const;
    expect(signsOf(['dangerSigns', []], ...all)).toMatchObject({ dangerSigns: [], lump: [] });
    for (const left of all) {
      const others = all.filter((one) => one !== left);
      expect(signsOf(['dangerSigns', []], ...others).dangerSigns).toEqual(['unknown']);
      expect(signsOf(['dangerSigns', ['fixed']], ...others).dangerSigns).toEqual(['fixed', 'unknown']);
    }
  });

  it('stay open where somebody could not tell, the ones present standing', () => {
    expect(
      signsOf(
        ['dangerSigns', ['breathless', 'unknown']],
        ['lump', ['pulsates']],
        ['asked.breathing', true],
        ['asked.story', true],
        ['asked.lump', true],
      ),
    ).toMatchObject({ dangerSigns: ['breathless', 'unknown'], lump: ['pulsates'] });
  });

  it('where the lump question could not be told, it is not known that nothing pulsates', () => {
    expect(signsOf(['dangerSigns', ['unknown']], ['asked.lump', true]).lump).toEqual(['unknown']);
  });

  it('of a case from before the three questions are read as they were answered', () => {
    expect(signsOf(['dangerSigns', []])).toEqual({ dangerSigns: [] });
    expect(signsOf(['dangerSigns', ['hard-or-fixed']])).toEqual({ dangerSigns: ['hard-or-fixed'] });
  });

  it('that nobody asked are absent', () => {
    expect(signsOf(['tsh', 'normal'])).toEqual({ tsh: 'normal' });
  });
});

it('the age of an INR, and what is new since, come with it', () => {
  const of = caseOf([
    opened,
    answered('bleeding', ['warfarin']),
    answered('inr', 2.4),
    answered('inrAgeHours', 30),
    answered('changedSinceInr', 'no'),
  ]);
  expect(findingsOf(of, at2030)).toEqual({
    bleeding: ['warfarin'],
    inr: 2.4,
    inrAgeHours: 30,
    changedSinceInr: false,
  });
});
