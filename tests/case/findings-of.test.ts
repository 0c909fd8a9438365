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
  ])('felt on %j, the first nodule %s: palpable %s', (felt, site, palpable) => {
    const of = caseOf([
      opened,
      answered('felt', felt),
      answered('nodules', ['n1']),
      answered('site', site, 'n1'),
      answered('mm', [22], 'n1'),
    ]);
    expect(findingsOf(of, at2030).palpable).toBe(palpable);
  });
});
