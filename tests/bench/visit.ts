/** A patient's visit as a health worker goes through it: which answers are right, and what is put right at the end. */
import type { ShownAsk } from '../../src/conversation/effect.ts';

/** Whom the worker has there, and what is answered by field; other questions have one answer for everybody. */
export interface Visit {
  /** Answers from the first question to the last one. */
  readonly questions: number;
  readonly answers: Readonly<Record<string, string>>;
  /** What is put right at the read-back, by its number there, one after the other. */
  readonly putRight: readonly string[];
}

const everybody: Readonly<Record<string, string>> = {
  risks: '0',
  examined: '1',
  tsh: '5',
  'ultrasound.done': '1',
  composition: '3',
  solidPartMm: '7',
  features: '0',
  foci: '30',
  'go-ahead': '1',
};

/** Twelve answers: nothing felt and nothing seen; no needle now, the patient is told, the case is closed. */
export const shortVisit: Visit = {
  questions: 12,
  answers: { bleeding: '40', examined: '4', mm: '0' },
  putRight: [],
};

/** Forty answers: four small nodules, warfarin; at the read-back insides, neck and family are put right once. */
export const longVisit: Visit = {
  questions: 40,
  answers: {
    bleeding: '5',
    inr: '2.5',
    // Not the answer of the question after it: the same digit twice within seconds is asked about.
    inrAgeHours: '2',
    changedSinceInr: 'N',
    tsh: '9',
    overactiveSigns: '10',
    mm: 'R 9x8x7 L 9x8x7 M 8x7x6 R 7x6x6',
  },
  putRight: ['C10', 'C6', 'C4'],
};

const letters = 'BCDFGHJKLMNPQRSTVWXZ';
const pairs = letters.length ** 2;

/** Initials that no other patient of this clinic has (of so many before), so that each is somebody new. */
export function initialsOf(patient: number): string {
  const place = patient % pairs;
  return `${letters[Math.floor(place / letters.length)]}${letters[place % letters.length]}`;
}

/** The right answer to what is asked; `corrected` counts what was put right before. Throws at a question it does not know. */
export function rightAnswer(
  visit: Visit,
  ask: Pick<ShownAsk, 'field' | 'item' | 'options'>,
  initials: string,
  corrected: number,
): string {
  if (ask.field === 'patient') return `${initials} 1952 F`;
  if (ask.field === 'findings-check') return visit.putRight[corrected] ?? 'OK';
  // Each of the three questions has a number of its own for none.
  if (ask.field === 'dangerSigns') return ask.options.find((one) => one.id === 'none')!.reply;
  // Every other lump is a little darker, or less solid: the same answer to the next lump within seconds is asked about.
  const isOther = /[24]$/.test(ask.item ?? '');
  if (isOther && ask.field === 'features') return '1';
  if (isOther && ask.field === 'solidPartMm') return '6';
  const known = visit.answers[ask.field] ?? everybody[ask.field];
  if (known === undefined) throw new Error(`the visit has no answer to ${ask.field}`);
  return known;
}
