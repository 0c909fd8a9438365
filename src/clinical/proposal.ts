import type { Site } from './findings.ts';

/** What a decision proposes for a needle, as `assess` prints it: a lump, or a node of the neck. */
export interface Proposed {
  readonly kind: 'nodule' | 'node';
  /** Id of the measured lump; null: felt only, or a node. */
  readonly nodule: string | null;
  /** Null where nobody has said it: asked before a code is issued. */
  readonly site: Site | null;
  /** Largest diameter in mm; null where nothing was measured. */
  readonly mm: number | null;
}
