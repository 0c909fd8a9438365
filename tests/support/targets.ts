import type { Target, TargetSide } from '../../src/case/target.ts';
import type { Proposed } from '../../src/clinical/proposed.ts';

/** A measured lump, of the side that tests give it: `n1` right, others left. */
export function lump(
  nodule = 'n1',
  side: TargetSide = nodule === 'n1' ? 'right' : 'left',
  mm: readonly number[] = [22, 15, 14],
): Target {
  return { kind: 'nodule', nodule, side, mm, place: null };
}

/** Proposals of these measured lumps. */
export function proposals(...ids: readonly string[]): readonly Proposed[] {
  return ids.map((nodule) => ({ kind: 'nodule', nodule, site: nodule === 'n1' ? 'right' : 'left', mm: 22 }));
}
