/** What has changed in a patient when the day of the needle comes: a medicine that somebody gave, a sign that was not there. */
import { answerOf, type Case } from '../../src/case/case.ts';
import type { Chance } from '../simulation/chance.ts';
import type { Truth } from './truth.ts';

const come = { antiplatelet: 6, heparin: 2, 'oral-anticoagulant': 2, warfarin: 2, 'voice-change': 1, swallowing: 1 };

/** One thing that comes until another day, or none. */
export function sinceThen(chance: Chance, often: number): ReadonlySet<string> {
  return new Set(chance.happens(often) ? [chance.weighted(come)] : []);
}

/** Whether the patient comes for the needle on a day that was agreed before. */
export const isAnotherDay = (of: Case | null): boolean => of !== null && answerOf(of, 'sampling-day') !== undefined;

/** The patient as they are now. */
export function asToday(truth: Truth, of: Case | null): Truth {
  if (truth.since.size === 0 || !isAnotherDay(of)) return truth;
  return { ...truth, facts: new Set([...truth.facts, ...truth.since]) };
}
