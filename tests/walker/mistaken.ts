/**
 * A lump that its worker first says on the wrong side, in a wrong size or beside one that is none, and puts right at a
 * read-back, or not at all.
 * Everything else of the patient is said as it is.
 */
import type { Case } from '../../src/case/case.ts';
import { answerOf } from '../../src/case/case.ts';
import type { Chance } from '../simulation/chance.ts';
import { type Lump, lumpOf, type Side } from './lump.ts';
import type { Truth } from './truth.ts';

const other: Readonly<Record<Side, Side>> = { right: 'left', left: 'right', isthmus: 'right' };

/** The lumps as they are first said, or null: mostly they are said rightly. */
export function mistakenOf(chance: Chance, lumps: readonly Lump[], often: number): readonly Lump[] | null {
  const [first, ...others] = lumps;
  if (!first || !chance.happens(often)) return null;
  // A vessel or a muscle beside the lumps was measured too.
  if (chance.happens(0.4)) return [oneTooMany(chance, first), ...lumps];
  const side = other[first.side];
  // Beside another lump of that side nobody could tell the two apart.
  const isFree = others.every((one) => one.side !== side && one.side !== first.side);
  if (isFree && chance.happens(0.6)) return [{ ...first, side }, ...others];
  const [length, width, depth] = first.mm;
  return [{ ...first, mm: [length + 4 + chance.below(6), width, depth] }, ...others];
}

/** Beside the first lump, and the largest one, so that it is sent first. */
function oneTooMany(chance: Chance, { side, mm: [length, width, depth], felt }: Lump): Lump {
  const more = 6 + chance.below(10);
  const one = lumpOf(chance, side, 'upper', true);
  return { ...one, mm: [length + more, width + more, depth + more], felt, solidPartMm: length };
}

/** The patient as this answer says it: wrongly the first time, rightly when the same is asked again of all lumps. */
export function asSaid(truth: Truth, of: Case | null, field: string, item: string | null = null): Truth {
  const isAgain = of !== null && item === null && isRecorded(of, field);
  return isAgain ? truth : asRecorded(truth, of);
}

/** The patient as the record has it: with what was said wrongly and is not put right yet. */
export function asRecorded(truth: Truth, of: Case | null): Truth {
  const { mistaken } = truth;
  return mistaken === null || (of !== null && isPutRight(of, truth)) ? truth : { ...truth, lumps: mistaken };
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
