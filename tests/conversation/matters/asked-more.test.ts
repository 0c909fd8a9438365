import { describe, expect, it } from 'vitest';
import type { CaseEvent } from '../../../src/case/events.ts';
import { askedMore } from '../../../src/conversation/matters/asked-more.ts';
import { momentOf, said } from './moment-of.ts';

const all: readonly CaseEvent[] = [
  { type: 'opened', tag: 'LI', siteId: 'oruma', ownerId: 'w', practice: false },
  said('dangerSigns', []),
  said('risks', []),
  said('asked.family', []),
  said('bleeding', []),
  said('asked.bleeding', []),
  said('examined', true),
  said('felt', ['left']),
  said('tsh', 'normal'),
  said('ultrasound.done', false),
];
const anew = said('asked-anew', 'asking');
const born = (year: number, sex: string): readonly CaseEvent[] => [
  said('patient.birthYear', year),
  said('patient.sex', sex),
];

describe('questions that a needle needs and the advice does not', () => {
  it('none, as long as no doctor has allowed a needle and it is the day of the examination', () => {
    expect(askedMore(momentOf([...all, ...born(1990, 'female'), said('asked.bleeding', null)]))).toBeNull();
  });

  it.each([
    [2018, 'female', null],
    [2017, 'female', null],
    [1990, 'female', 'pregnant'],
    [1975, 'female', 'pregnant'],
    [1974, 'female', null],
    [1990, 'male', null],
  ])('another day, born %i, %s: %s', (year, sex, question) => {
    expect(askedMore(momentOf([...all, ...born(year, sex), anew]))?.outcome ?? null).toBe(question);
  });

  it.each([
    ['asked.family', null, 'family'],
    ['asked.bleeding', null, 'bleeding'],
    ['bleeding', ['warfarin'], 'inr'],
    ['bleeding', ['heparin'], 'platelets'],
    ['bleeding', ['iv-antiplatelet'], 'drip-hours'],
    ['examined', null, 'examined'],
    ['tsh', null, 'tsh'],
    ['ultrasound.done', null, 'ultrasound'],
  ])("after a doctor's yes, %s %j: %s", (field, value, question) => {
    const events = [...all, ...born(1960, 'male'), said('doctor-allows', []), said(field, value)];
    expect(askedMore(momentOf(events))?.outcome ?? null).toBe(question);
  });

  it('an INR, then how old it is, then what may have moved it since', () => {
    const on = [...all, ...born(1960, 'male'), said('doctor-allows', []), said('bleeding', ['warfarin'])];
    expect(askedMore(momentOf([...on, said('inr', 2.2)]))?.outcome ?? null).toBe('inr-days');
    expect(askedMore(momentOf([...on, said('inr', 2.2), said('inrAgeHours', 24)]))).toBeNull();
    expect(askedMore(momentOf([...on, said('inr', 2.2), said('inrAgeHours', 48)]))?.outcome ?? null).toBe(
      'inr-changed',
    );
    expect(askedMore(momentOf([...on, said('inr', 'unknown')]))).toBeNull();
  });

  it('nothing more where a stop stands that no answer lifts', () => {
    const events = [...all, ...born(1960, 'male'), said('doctor-allows', []), said('tsh', null)];
    expect(askedMore(momentOf([...events, said('bleeding', ['bleeding-disorder'])]))).toBeNull();
  });
});
