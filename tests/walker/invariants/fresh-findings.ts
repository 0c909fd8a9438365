import type { AnswerKey } from '../../../src/case/answers.ts';
import type { Case } from '../../../src/case/case.ts';
import type { Invariant } from './invariant.ts';
import { recordsOf } from './invariant.ts';
import { localDay } from './local-day.ts';

/** Longest that an INR counts by default (our convention, DEFAULT of the programme). */
const inrHours = 72;
const hourMs = 3_600_000;

/** What a day may change, by the question that asks it: each one has a day of its own. */
const changes: Readonly<Record<string, string>> = {
  dangerSigns: 'danger signs',
  'asked.breathing': 'breathing',
  'asked.story': 'voice, swallowing and growth',
  'asked.lump': 'feel of the lump',
  bleeding: 'bleeding',
  'asked.bleeding': 'the question of bleeding',
  'patient.pregnant': 'pregnancy',
  'patient.pregnantWeeks': 'weeks of pregnancy',
};

/** Before a needle the danger signs and a pregnancy are of that day, and an INR is no older than the programme allows. */
export const freshFindings: Invariant = {
  name: 'on the day of the needle danger signs, pregnancy, INR and platelets are asked again',
  broken: (walked) => {
    const first = recordsOf(walked).find(({ record }) => record.event.type === 'code-issued');
    if (!first) return [];
    const { at, after } = first;
    const breaches: string[] = [];
    for (const [field, words] of Object.entries(changes)) {
      const saidAt = after.answeredAt[field];
      if (saidAt === undefined || after.answers[field as AnswerKey] === null || localDay(saidAt) === localDay(at))
        continue;
      breaches.push(`${words} of ${localDay(saidAt)}, needle on ${localDay(at)}`);
    }
    // Whatever a doctor has allowed before it was asked.
    for (const field of ['dangerSigns', 'bleeding'] as const) {
      if ((after.answers[field] ?? null) === null)
        breaches.push(`${field} ${isAnswered(after, field) ? 'forgotten, not asked again' : 'never asked'}`);
    }
    const bleeding = Array.isArray(after.answers.bleeding) ? after.answers.bleeding : [];
    const figures: readonly (readonly [string, string])[] = [
      ['warfarin', 'inr'],
      ['heparin', 'platelets'],
    ];
    for (const [medicine, figure] of figures) {
      const saidAt = after.answeredAt[figure] ?? 0;
      if (bleeding.includes(medicine) && at - saidAt > inrHours * hourMs) {
        breaches.push(`${figure} said on ${localDay(saidAt)}, needle on ${localDay(at)}`);
      }
    }
    return breaches;
  },
};

const isAnswered = (of: Case, field: string): boolean => of.answeredAt[field] !== undefined;
