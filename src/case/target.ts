/** What a needle goes into, and how far that is known before it is. */
import type { Proposed } from '../clinical/proposed.ts';
import { answerOf, type Case } from './case.ts';

/** Levels of the lymph nodes of the neck. AJCC and American Academy of Otolaryngology levels, from memory. */
export const nodeLevels = ['I', 'II', 'III', 'IV', 'V', 'VI', 'VII'] as const;
export type NodeLevel = (typeof nodeLevels)[number];

/** Where a node lies: its level, or just above the collarbone, at whatever depth. */
export type NodePlace = NodeLevel | 'low';

export type TargetSide = 'right' | 'left' | 'isthmus';
export type TargetPlace = 'upper' | 'lower';

/** What a needle goes into. Nothing is one without a side and a size. */
export type Target =
  | {
      readonly kind: 'nodule';
      /** Id of the measured lump; null: felt only. */
      readonly nodule: string | null;
      readonly side: TargetSide;
      /** One to three diameters in mm, largest first. */
      readonly mm: readonly number[];
      /** Tells two lumps of one side apart. */
      readonly place: TargetPlace | null;
    }
  | {
      readonly kind: 'node';
      readonly side: 'right' | 'left';
      readonly mm: readonly number[];
      readonly level: NodePlace | null;
    };

/** A proposal with what the answers add to it so far. */
export interface Aim {
  readonly kind: 'nodule' | 'node';
  /** Under which its side, size and place are answered: `n1` of a measured lump, else `felt` or `node`. */
  readonly item: string;
  readonly nodule: string | null;
  readonly side: TargetSide | null;
  readonly mm: readonly number[];
  readonly place: TargetPlace | null;
  readonly level: NodePlace | null;
}

/** Id of the measured lump that was sampled; null: felt only, or a node. */
export function noduleOf(target: Target): string | null {
  return target.kind === 'nodule' ? target.nodule : null;
}

/** Whether both are one lump or one node: the same measured lump, else the same kind, side and place. */
export function sameTarget(one: Target, other: Target): boolean {
  const [mine, theirs] = [noduleOf(one), noduleOf(other)];
  if (mine !== null || theirs !== null) return mine === theirs;
  return one.kind === other.kind && one.side === other.side && spotOf(one) === spotOf(other);
}

/** Whether slides of the one say what is true of the other: the same, and side, place and sizes too. */
export function identical(one: Target, other: Target): boolean {
  const isSame = sameTarget(one, other) && one.side === other.side && spotOf(one) === spotOf(other);
  return isSame && one.mm.join() === other.mm.join();
}

/** What tells two lumps or two nodes of one side apart; null: nothing was said. */
export function spotOf(of: Target): string | null {
  return of.kind === 'nodule' ? of.place : of.level;
}

/** Whether this item of an answer is a measured lump (`n1`). */
export function isNodule(item: string | null): item is string {
  return item !== null && /^n\d+$/.test(item);
}

/** Everything proposed for a needle, in order, as far as it is known. */
export function aimsOf(of: Case): readonly Aim[] {
  return (of.decided?.proposed ?? []).map((one) => aimOf(of, one));
}

/** The target that this aim has come to; null while its side or size is not known. */
export function targetOf(aim: Aim): Target | null {
  const { side, mm, nodule, place, level } = aim;
  if (side === null || mm.length === 0) return null;
  if (aim.kind === 'nodule') return { kind: 'nodule', nodule, side, mm, place };
  return side === 'isthmus' ? null : { kind: 'node', side, mm, level };
}

/** Whether two of these lumps lie on one side, so that side and size alone do not name this one for a hand or an eye. */
export function needsPlace(aims: readonly Aim[], aim: Aim): boolean {
  const twins = aims.filter((one) => one.kind === aim.kind && one.side === aim.side);
  return aim.kind === 'nodule' && aim.side !== null && aim.place === null && twins.length > 1;
}

/**
 * Hoarse, with lumps of both sides proposed: one side a day, and the voice is looked at before the other. A vocal cord that
 * stands still leaves the other one to breathe by (our convention).
 */
export function isOneSideFirst(of: Case): boolean {
  const sides = aimsOf(of).map((one) => one.side);
  const isHoarse = answerOf(of, 'dangerSigns')?.includes('voice-change') === true;
  return isHoarse && sides.includes('right') && sides.includes('left');
}

/** What is proposed, as far as it is known. */
export function aimOf(of: Case, proposed: Proposed): Aim {
  const { kind, nodule } = proposed;
  const item = nodule ?? itemOf(proposed);
  const measured = sizesOf(of, item);
  const site = proposed.site ?? sideSaid(of, item);
  return {
    kind,
    item,
    nodule,
    side: site ?? (kind === 'nodule' ? feltSide(of) : null),
    mm: measured.length > 0 ? measured : proposed.mm === null ? [] : [proposed.mm],
    place: placeSaid(of, item),
    level: levelSaid(of, item),
  };
}

function itemOf({ kind, site }: Proposed): string {
  const name = kind === 'node' ? 'node' : 'felt';
  return site === null ? name : `${name}-${site}`;
}

/** Side of a lump as it was said, or null. */
export function sideSaid(of: Case, item: string): TargetSide | null {
  const side = answerOf(of, 'site', item) ?? 'unknown';
  return side === 'unknown' ? null : side;
}

/** The one side on which a lump was felt; null where none or several were. */
export function feltSide(of: Case): TargetSide | null {
  const [only, more] = answerOf(of, 'felt') ?? [];
  return more === undefined ? (only ?? null) : null;
}

/** Diameters of a lump in mm as far as they were said, largest first; empty when nothing was. */
export function sizesOf(of: Case, item: string): readonly number[] {
  for (const field of ['mm', 'mmTwo', 'mmRange'] as const) {
    const numbers = answerOf(of, field, item) ?? [];
    // Of a range the larger end is the size that a label can bear.
    if (numbers.length > 0) return field === 'mmRange' ? [Math.max(...numbers)] : numbers.toSorted((a, b) => b - a);
  }
  return [];
}

function placeSaid(of: Case, item: string): TargetPlace | null {
  return answerOf(of, 'place', item) ?? null;
}

function levelSaid(of: Case, item: string): NodePlace | null {
  const level = answerOf(of, 'level', item);
  if (level === 'low') return level;
  return nodeLevels.find((one) => one.toLowerCase() === level) ?? null;
}
