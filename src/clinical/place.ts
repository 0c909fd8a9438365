import type { KnownFindings, KnownNodule } from './known.ts';

/*
 * Where a lump can be sampled. One that is not felt is sampled only under ultrasound guidance: National Institute for
 * Health and Care Excellence, NG230; common practice.
 */

/** `elsewhere`: not with what this site has, as far as is known. `unknown`: neither felt nor guidance has been said. */
export type Place = 'here' | 'elsewhere' | 'unknown';

/**
 * Whether this lump is felt: what is said of it, else what is said of the neck. A neck where something is felt does not
 * say which of two lumps of one side it is, unless the others are known not to be (our convention).
 */
export function isFelt({ palpable, nodules }: KnownFindings, nodule: KnownNodule): boolean | null {
  if (nodule.palpable !== null || palpable !== true) return nodule.palpable ?? palpable;
  const others = (nodules ?? []).filter(
    (other) => other.id !== nodule.id && nodule.site !== null && other.site === nodule.site,
  );
  return others.every((other) => other.palpable === false) ? true : null;
}

/** Where a lump that is felt, or not, or nobody knows, can be sampled. */
export function placeOf(felt: boolean | null, guidance: boolean | null): Place {
  if (felt === true || guidance === true) return 'here';
  return felt === null && guidance === null ? 'unknown' : 'elsewhere';
}
