/**
 * A lump that its worker first says on the wrong side or in a wrong size, and puts right at a read-back, or not at all.
 * Everything else of the patient is said as it is.
 */
import type { Case } from '../../src/case/case.ts';
import { answerOf } from '../../src/case/case.ts';
import type { Chance } from '../simulation/chance.ts';
import type { Lump, Side } from './lump.ts';
import type { Truth } from './truth.ts';

const other: Readonly<Record<Side, Side>> = { right: 'left', left: 'right', isthmus: 'right' };

/** The first lump as it is first said, or null: mostly it is said rightly. */
export function mistakenOf(chance: Chance, lumps: readonly Lump[], often: number): Lump | null {
  const [first, ...others] = lumps;
  if (!first || !chance.happens(often)) return null;
  const side = other[first.side];
  // Beside another lump of that side nobody could tell the two apart.
  const isFree = others.every((one) => one.side !== side && one.side !== first.side);
  if (isFree && chance.happens(0.6)) return { ...first, side };
  const [length, width, depth] = first.mm;
  return { ...first, mm: [length + 4 + chance.below(6), width, depth] };
}

/** The patient as this answer says it: wrongly the first time, rightly when the same is asked again. */
export function asSaid(truth: Truth, of: Case | null, field: string): Truth {
  const { mistaken, lumps } = truth;
  if (mistaken === null) return truth;
  const isAgain = of !== null && isRecorded(of, field);
  if (isAgain || (of !== null && isPutRight(of, truth))) return truth;
  return { ...truth, lumps: [mistaken, ...lumps.slice(1)] };
}

/** The line of the read-back that the worker sees to be wrong, or null: nothing is, or nobody looks closely. */
export function lineToCorrect(truth: Truth, of: Case | null, chance: Chance): 'sizes' | 'felt' | null {
  // On a later day, with the code on the glass, mostly.
  if (truth.mistaken === null || of === null || !chance.happens(of.specimens.length > 0 ? 0.85 : 0.3)) return null;
  if (isRecorded(of, 'mm') && !isPutRight(of, truth)) return 'sizes';
  const felt = answerOf(of, 'felt') ?? [];
  const really = truth.lumps.filter((lump) => lump.felt).map((lump) => lump.side);
  return felt.some((side) => !really.includes(side)) ? 'felt' : null;
}

function isRecorded(of: Case, field: string): boolean {
  if (field === 'mm') return (answerOf(of, 'nodules') ?? []).length > 0;
  return field === 'examined' && (answerOf(of, 'examined') ?? null) !== null;
}

/** Whether the record has the lump as it is. */
function isPutRight(of: Case, { lumps: [first] }: Truth): boolean {
  const { 'n1.site': site, 'n1.mm': mm } = of.answers as Readonly<Record<string, unknown>>;
  return first !== undefined && site === first.side && Array.isArray(mm) && mm[0] === first.mm[0];
}
