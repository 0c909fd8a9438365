/** One change of the product that takes the defence of a row away. The proofs of the row have to turn red. */
export interface Mutant {
  /** Of the list of threats or of the hazard log: `X01`, `H01`. */
  readonly row: string;
  /** From the root of the repository. */
  readonly file: string;
  /** Stands once in the file. */
  readonly is: string;
  readonly becomes: string;
  /** Each as the row's column of proofs names it: `path › title`, or a play. */
  readonly red: readonly [string, ...string[]];
}

/** A row that is held by people or paper, so that nothing here could be taken away. */
export interface Outside {
  readonly row: string;
  readonly outside: string;
}

export type Defence = Mutant | Outside;

/** Whether this defence is in the product. */
export const isMutant = (one: Defence): one is Mutant => 'file' in one;
