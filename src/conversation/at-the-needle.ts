/** Whether the clinic may have a needle in, or wet slides in its hands, at this moment. */
import type { Case } from '../case/case.ts';
import { durationOf, type Programme } from './programme.ts';

/** From the code that was read to the report of the slides, at most the quiet time after the last that was heard of it. */
export function isAtTheNeedle(programme: Programme, of: Case, now: number): boolean {
  if (of.status !== 'sampling') return false;
  const heardAt = Math.max(of.statusAt, ...of.specimens.map((one) => one.takenAt ?? 0));
  return now - heardAt < durationOf(programme, 'quiet-at-most');
}
