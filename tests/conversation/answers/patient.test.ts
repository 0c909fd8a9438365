import { describe, expect, it } from 'vitest';
import { type PatientWords, readPatient } from '../../../src/conversation/answers/patient.ts';

const words: PatientWords = {
  sex: { f: 'female', woman: 'female', m: 'male' },
  pregnant: ['p', 'pregnant'],
  years: ['y', 'yrs'],
  weeks: ['w', 'weeks'],
};
const female = { sex: 'female', birthYear: null, ageYears: null, pregnant: null, pregnantWeeks: null };

describe("the patient's line", () => {
  it.each([
    ['AK 1982 F', { ...female, initials: 'AK', birthYear: 1982 }],
    ['f ak 1982', { ...female, initials: 'AK', birthYear: 1982 }],
    ['AK 43 F', { ...female, initials: 'AK', ageYears: 43 }],
    ['AK 43yrs woman', { ...female, initials: 'AK', ageYears: 43 }],
    ['A.K., 1982, F.', { ...female, initials: 'AK', birthYear: 1982 }],
    ['A K 1982 F', { ...female, initials: 'AK', birthYear: 1982 }],
    ['AK1982F', { ...female, initials: 'AK', birthYear: 1982 }],
    ['ÉN 1982 F', { ...female, initials: 'ÉN', birthYear: 1982 }],
    ['عم ١٩٨٢ F', { ...female, initials: 'عم', birthYear: 1982 }],
    ['AK 1982 47 F', { ...female, initials: 'AK', birthYear: 1982, ageYears: 47 }],
    ['AK 43 M', { ...female, initials: 'AK', ageYears: 43, sex: 'male' }],
    ['AK 33 F P20', { ...female, initials: 'AK', ageYears: 33, pregnant: 'yes', pregnantWeeks: 20 }],
    ['AK 1997 F P 20 weeks', { ...female, initials: 'AK', birthYear: 1997, pregnant: 'yes', pregnantWeeks: 20 }],
    ['P AK 1997 F', { ...female, initials: 'AK', birthYear: 1997, pregnant: 'yes' }],
    ['AK 33 F P0', { ...female, initials: 'AK', ageYears: 33, pregnant: 'no' }],
  ])('is read from %j', (text, patient) => {
    expect(readPatient(text, words, 2030)).toEqual({ ok: true, value: patient });
  });

  it('in a language where one letter begins the words of both sexes it is asked back, and the words and the other letter are read', () => {
    const spanish: PatientWords = { ...words, sex: { f: 'female', mujer: 'female', h: 'male' }, eitherSex: ['m'] };
    for (const text of ['AK 1982 M', 'AK 1982 m P20', 'M AK 1982', 'AK 1982 M F']) {
      expect(readPatient(text, spanish, 2030)).toEqual({ ok: false, reason: 'needs-sex' });
    }
    expect(readPatient('M 1982 F', spanish, 2030)).toEqual({ ok: false, reason: 'needs-initials' });
    for (const [text, sex] of [
      ['AK 1982 mujer', 'female'],
      ['AK 1982 F', 'female'],
      ['AK 1982 H', 'male'],
      ['MK 1982 H', 'male'],
    ] as const) {
      expect(readPatient(text, spanish, 2030)).toMatchObject({ ok: true, value: { sex } });
    }
  });

  it('never makes a birth year of an age', () => {
    const patient = readPatient('AK 43 F', words, 2030);
    expect(patient.ok && patient.value.birthYear).toBeNull();
  });

  it.each([
    ['no initials', '1982 F', 'needs-initials'],
    ['a sex letter that may be the initials', 'M 1982 F', 'needs-initials'],
    ['a whole name', 'akuma keza, 43, F', 'full-name'],
    ['two names', 'ANNA KOLE 1982 F', 'needs-initials'],
    ['no age', 'AK F', 'needs-age'],
    ['weeks that may be the age', 'AK F P 20', 'needs-age'],
    ['two ages', 'AK 43 45 F', 'needs-age'],
    ['no sex', 'AK 1982', 'needs-sex'],
    ['both sexes', 'AK 1982 F M', 'needs-sex'],
    ['a year to come', 'AK 2031 F', 'unlikely-age'],
    ['a year long past', 'AK 1892 F', 'unlikely-age'],
    ['an age no one reaches', 'AK 130 F', 'unlikely-age'],
    ['age and year that differ', 'AK 1982 43 F', 'age-and-year-differ'],
    ['a pregnant man', 'AK 1997 M P20', 'pregnant-not-female'],
    ['too many weeks', 'AK 1997 F P50', 'weeks-out-of-range'],
    ['a pregnant child', 'AK 5 F P20', 'unlikely-age'],
    ['a word it does not know', 'AK 1982 F urgent', 'not-understood'],
    ['a number of five digits', 'AK 19822 F', 'not-understood'],
    ['nothing', '', 'empty'],
  ])('is asked again for %s', (_what, text, reason) => {
    expect(readPatient(text, words, 2030)).toEqual({ ok: false, reason });
  });
});
