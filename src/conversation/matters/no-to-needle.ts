import type { Question } from '../state.ts';

/** Answers of a doctor that want no needle in this patient, or no more, by what was asked. */
const noes: { readonly [about: string]: readonly string[] | undefined } = {
  decision: ['follow-up', 'refer', 'close', 'not-thyroid'],
  'decision-cyst': ['follow-up', 'refer', 'close', 'not-thyroid'],
  'urgent-decision': ['refer', 'not-thyroid'],
  'urgent-decision-cyst': ['refer', 'not-thyroid'],
  'before-needle': ['other-day'],
  'too-many-attempts': ['stop', 'refer'],
  'fluid-came': ['stop', 'refer'],
};

/** Whether this answer to a question about this wants no needle, or no more. */
export function isNoToNeedle(about: string, answer: string): boolean {
  return noes[about]?.includes(answer) ?? false;
}

/** Choices that let a needle in. */
const needles: ReadonlySet<string> = new Set(['sample', 'drain', 'one-more', 'again', 'repeat']);

/** Whether this answer lets a needle in. */
export const isYesToNeedle = (answer: string): boolean => needles.has(answer);

/** Questions that offer no needle, because something speaks against it: whoever waits may still think of one. */
const stopped: ReadonlySet<string> = new Set(['decision-stopped', 'urgent-decision-stopped']);

/** Whether a needle could be thought to follow from the answer to this question. */
export function asksOfNeedle(question: Pick<Question, 'about' | 'options'>): boolean {
  return stopped.has(question.about) || question.options.some((one) => needles.has(one.id));
}
