import type { Site } from './findings.ts';

/**
 * Something that a needle is proposed for. A nodule of the findings by its id; `nodule` null with kind `nodule` is a lump
 * that was felt and never measured. `site` and `mm` (largest diameter) are null where nobody has said them.
 */
export interface Proposed {
  readonly kind: 'nodule' | 'node';
  readonly nodule: string | null;
  readonly site: Site | null;
  readonly mm: number | null;
}
