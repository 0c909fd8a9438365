/** What a case knows of earlier examinations of the same patient. */

import { answerOf, type Case } from './case.ts';

/** A nodule as an earlier examination measured it (answer `earlier-sizes`). */
export interface EarlierNodule {
  readonly side: string;
  /** mm */
  readonly mm: readonly number[];
  /** Day of that examination, `2030-03-04`. */
  readonly on: string;
}

/** A sample of an earlier case of the same patient, as the new case remembers it (answer `earlier`). */
export interface EarlierSample {
  readonly side: string | null;
  readonly canonical: string;
  /** Where on that side, where it was said: `upper` of two lumps, the place of a node. */
  readonly spot?: string;
  /** Day of that result, `2030-03-04`; older cases did not keep it. */
  readonly on?: string;
}

/** Nodules of all earlier examinations, oldest first. */
function earlierNodules(of: Case): readonly EarlierNodule[] {
  return answerOf(of, 'earlier-sizes') ?? [];
}

/**
 * The examination to compare this nodule with: the one with the smallest sizes, so that slow growth over several looks is
 * not missed. Only where the side has one nodule, then and now: nobody guesses which of two it was. Null = none is known.
 */
export function earlierOf(of: Case, nodule: string): EarlierNodule | null {
  const side = answerOf(of, 'site', nodule);
  const ids = answerOf(of, 'nodules');
  const here = Array.isArray(ids) ? ids.filter((id) => answerOf(of, 'site', String(id)) === side) : [];
  if (typeof side !== 'string' || here.length !== 1) return null;
  const before = earlierNodules(of).filter((one) => one.side === side && one.mm.length === 3);
  const alone = before.filter((one) => before.filter((other) => other.on === one.on).length === 1);
  const volume = (one: EarlierNodule): number => one.mm.reduce((product, mm) => product * mm, 1);
  return [...alone].sort((a, b) => volume(a) - volume(b))[0] ?? null;
}

/** What a later case is told of this one's nodules, with what this one knew of earlier ones. `dayOf` gives the day of an instant. */
export function sizesSoFar(of: Case, dayOf: (at: number) => string): readonly EarlierNodule[] {
  const ids = answerOf(of, 'nodules');
  const own = (Array.isArray(ids) ? ids : []).flatMap((id) => {
    const side = answerOf(of, 'site', String(id));
    const mm = answerOf(of, 'mm', String(id));
    if (typeof side !== 'string' || !Array.isArray(mm)) return [];
    return [{ side, mm, on: dayOf(of.answeredAt[`${id}.mm`] ?? of.openedAt) }];
  });
  return [...earlierNodules(of).map(({ side, mm, on }) => ({ side, mm, on })), ...own];
}
