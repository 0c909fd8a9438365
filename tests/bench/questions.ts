/** The line's own questions and their right answers, for the baselines to ask: recorded, not written by hand. */
import type { Passed } from './whole-line.ts';

export interface AskedQuestion {
  readonly text: string;
  readonly answer: string;
}

/** From a whole visit: what came back on each text is what the next text answers. */
export function questionsOf(passed: readonly Passed[]): readonly AskedQuestion[] {
  return passed.slice(1).map(({ text }, index) => ({ text: passed[index]!.replies.join('\n'), answer: text }));
}
