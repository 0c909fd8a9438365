/**
 * The rinse of a needle for calcitonin, beside the slides of a lump where medullary cancer runs in the family: cells alone miss
 * some of these cancers (Wells, Thyroid 2015;25:567, and Trimboli 2016, both from memory: to be checked in the primary text).
 * It never replaces the slides.
 */

/** Saline into which each needle is rinsed, ml (Trimboli 2016, from memory: check). */
export const CALCITONIN_RINSE_ML = { least: 0.5, most: 1 } as const;

/** Whether a needle into a lump of this patient is rinsed: of risks, and of what the laboratory tests. Pure. */
export function isRinsedForCalcitonin(risks: readonly string[], assays: readonly string[]): boolean {
  return risks.includes('family-medullary') && assays.includes('calcitonin');
}
