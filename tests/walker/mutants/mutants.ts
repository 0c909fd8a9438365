/** Old faults, put back: each a small change of the product that the walker has to see. */
import { invariants } from '../invariants.ts';

export interface WalkerMutant {
  /** What goes wrong with it, in the trade's words. */
  readonly name: string;
  readonly changes: readonly {
    /** From the root of the repository. */
    readonly file: string;
    /** Stands once in the file. */
    readonly is: string;
    readonly becomes: string;
  }[];
  /** Names of the invariants of which at least one has to be broken. */
  readonly breaks: readonly [string, ...string[]];
}

export const mutants: readonly WalkerMutant[] = [
  {
    name: 'a known stop is weighed behind the steps that are not done, so that they are asked for without end',
    changes: [
      {
        file: 'src/clinical/gates.ts',
        is: '  knownStopsGate,\n  mandatoryStepsGate,\n',
        becomes: '  mandatoryStepsGate,\n  knownStopsGate,\n',
      },
    ],
    breaks: ['a known stop is said as such, and no step that cannot change it is asked for'],
  },
];

/** Names that no invariant has: a mutant that waits for one of them proves nothing. */
export const unknownNames = (): readonly string[] =>
  mutants.flatMap(({ breaks }) => breaks.filter((name) => !invariants.some((one) => one.name === name)));
