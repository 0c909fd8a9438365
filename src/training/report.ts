/** What stands on the page for the coordinator at the end of a run. */
import type { LogEntry, Run } from './run.ts';
import type { Scenario } from './scenario.ts';

export interface Report {
  /** Steps of the learner: answered in time, too late, never. */
  readonly right: number;
  readonly late: number;
  readonly missed: number;
  /** Everything that the learner sent, and what never came, in its order. */
  readonly lines: readonly LogEntry[];
}

export function reportOf({ steps, you }: Scenario, { marks, log }: Run): Report {
  const count = (wanted: string): number =>
    marks.filter((mark, index) => mark === wanted && steps[index]!.part === you).length;
  return { right: count('right'), late: count('late'), missed: count('missed'), lines: log };
}
