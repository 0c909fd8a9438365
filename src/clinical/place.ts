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

/** Whether what a needle is for is felt; of a node it is (a finger is laid on it before), null is not known. */
export function isAimFelt(
  known: KnownFindings,
  { kind, nodule }: { readonly kind: 'nodule' | 'node'; readonly nodule: string | null },
): boolean | null {
  if (kind === 'node') return true;
  const measured = known.nodules?.find(({ id }) => id === nodule);
  return measured === undefined ? known.palpable : isFelt(known, measured);
}

/** Where a lump that is felt, or not, or nobody knows, can be sampled. */
export function placeOf(felt: boolean | null, guidance: boolean | null): Place {
  if (felt === true || guidance === true) return 'here';
  return felt === null && guidance === null ? 'unknown' : 'elsewhere';
}
