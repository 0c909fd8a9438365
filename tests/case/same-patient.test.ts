import { describe, expect, it } from 'vitest';
import { type Case, foldCase } from '../../src/case/case.ts';
import type { CaseEvent, Json } from '../../src/case/events.ts';
import { couldBeSamePatient, patientKeyOf } from '../../src/case/same-patient.ts';

const yearAt = (at: number): number => new Date(at).getUTCFullYear();
const spring = (year: number): number => Date.UTC(year, 2, 4);

interface Said {
  readonly site?: string;
  readonly practice?: boolean;
  readonly initials?: string;
  readonly sex?: string;
  readonly birthYear?: number;
  readonly ageYears?: number;
  readonly year?: number;
}

function caseOf(said: Said): Case {
  const opened: CaseEvent = {
    type: 'opened',
    tag: 'AK',
    siteId: said.site ?? 'oruma',
    ownerId: 'w',
    practice: said.practice ?? false,
  };
  const who: Record<string, Json | undefined> = {
    initials: said.initials ?? 'AK',
    sex: said.sex ?? 'female',
    birthYear: said.birthYear,
    ageYears: said.ageYears,
  };
  const answers = Object.entries(who).flatMap(([name, value]): CaseEvent[] =>
    value === undefined ? [] : [{ type: 'answered', field: `patient.${name}`, item: null, value }],
  );
  const records = [opened, ...answers].map((event, index) => ({
    caseId: 'c',
    sequence: index + 1,
    at: spring(said.year ?? 2030),
    by: 'w',
    eventId: 'e',
    flow: '-',
    event,
  }));
  return foldCase('c', 'p', records);
}

describe('whether two cases could be of one patient', () => {
  const known = { birthYear: 1982 };
  it.each<[string, Said, Said, boolean]>([
    ['the same birth year', known, known, true],
    ['another birth year, however near', known, { birthYear: 1983 }, false],
    ['an age of that year', known, { ageYears: 48 }, true],
    ['an age before the birthday', known, { ageYears: 47 }, true],
    ['an age that is out by two', known, { ageYears: 46 }, false],
    ['two ages a year apart on the same day', { ageYears: 47 }, { ageYears: 48 }, true],
    ['two ages as far apart as the days', { ageYears: 46, year: 2028 }, { ageYears: 48 }, true],
    ['the same age two years later', { ageYears: 48, year: 2028 }, { ageYears: 48 }, false],
    ['no age on one side', known, {}, false],
    ['another sex', known, { birthYear: 1982, sex: 'male' }, false],
    ['other initials', known, { birthYear: 1982, initials: 'KA' }, false],
    ['another site', known, { birthYear: 1982, site: 'kesu' }, false],
    ['practice on one side', known, { birthYear: 1982, practice: true }, false],
  ])('%s', (_what, one, other, could) => {
    expect(couldBeSamePatient(caseOf(one), caseOf(other), yearAt)).toBe(could);
    expect(couldBeSamePatient(caseOf(other), caseOf(one), yearAt)).toBe(could);
  });

  it('practice is nobody', () => {
    expect(patientKeyOf(caseOf({ practice: true }))).toBeNull();
    expect(patientKeyOf(caseOf({}))).toEqual({ siteId: 'oruma', initials: 'AK', sex: 'female' });
  });
});
