import { completionsOf, type PolicyReading, policyOf, possibleGrades, readPolicy } from './completions.ts';
import { type KnownFindings, type KnownNodule, nodulesLook } from './known.ts';
import { type Outcome, type PolicyId, policyIds } from './policies/policy.ts';
import { nodulesKept, rememberedBy } from './remembered.ts';

/** One nodule with what every policy says of it, and what the governing one comes to for this patient. */
export interface WeighedNodule {
  readonly nodule: KnownNodule;
  readonly readings: { readonly [P in PolicyId]: PolicyReading };
  /** The governing policy's word, raised where this patient's risks allow or demand a needle at smaller sizes. */
  readonly outcome: Outcome;
  /** Whether a risk of the patient, and not the look of the nodule, made the outcome. */
  readonly raisedBy: 'pet-focus' | 'higher-risk' | null;
  /** Rank of the most worrying look that is still possible under the governing policy; larger is worse. */
  readonly suspicion: number;
}

/** At most this many nodules are weighed, by suspicion, and at most this many proposed: Tessler, J Am Coll Radiol
 * 2017;14:587 (the two with the highest score, not the two largest; size breaks a tie). */
export const mostNodules = { weighed: 4, proposed: 2 } as const;

/**
 * Focal uptake on a PET scan: sampled from 10 mm (Haugen, Thyroid 2016;26:1; its pocket guide writes "over").
 * Irradiation of the neck or other thyroid cancer in the family: the same guideline lets smaller sizes than its table's
 * be considered for every pattern; not under 5 mm (our convention).
 */
export const raised = { petSampleFromMm: 10, considerFromMm: 5 } as const;

/** Reads one nodule under every policy and weighs it under the governing one. */
export function weighNodule(known: KnownFindings, nodule: KnownNodule, governing: PolicyId): WeighedNodule {
  const { readings, suspicion } = readNodule(nodule, governing);
  const outcome = readings[governing].decision;
  const raisedBy = raise(known, nodule, outcome, governing);
  return {
    nodule,
    readings,
    outcome: raisedBy === null ? outcome : raisedBy === 'pet-focus' ? 'sample' : 'optional',
    raisedBy,
    suspicion,
  };
}

/** What the policies say of a nodule by itself, whoever has it. */
const readNodule = rememberedBy(
  nodulesKept,
  (nodule: KnownNodule, governing: PolicyId) => `${governing} ${nodulesLook(nodule)}`,
  (nodule, governing): Pick<WeighedNodule, 'readings' | 'suspicion'> => {
    const looks = completionsOf(nodule);
    const readings = Object.fromEntries(policyIds.map((id) => [id, readPolicy(id, nodule, looks)])) as {
      [P in PolicyId]: PolicyReading;
    };
    return { readings, suspicion: suspicionOf(governing, possibleGrades(governing, looks)) };
  },
);

function raise(
  known: KnownFindings,
  nodule: KnownNodule,
  outcome: Outcome,
  governing: PolicyId,
): WeighedNodule['raisedBy'] {
  const leastMm = nodule.size?.least ?? 0;
  if (nodule.composition === 'cystic' || outcome === 'sample') return null;
  if (known.risks.present.includes('pet-focus') && leastMm >= raised.petSampleFromMm) return 'pet-focus';
  const below = outcome === 'follow-up' || outcome === 'no-sampling';
  const atHigherRisk = hasHigherRisk(known) && governing === 'ata-2015';
  return atHigherRisk && below && leastMm >= raised.considerFromMm ? 'higher-risk' : null;
}

/** Irradiation of the neck, or thyroid cancer other than medullary in the family. */
export function hasHigherRisk({ risks }: KnownFindings): boolean {
  return risks.present.includes('neck-irradiation') || risks.present.includes('family-thyroid-cancer');
}

/**
 * Grades from least to most worrying. An ATA nodule that fits no row stands between intermediate and high, as the
 * malignancy of such nodules does (study of ATA patterns in 463 indeterminate nodules).
 */
const worryOrder: { readonly [P in PolicyId]?: readonly string[] } = {
  'ata-2015': ['benign', 'very-low', 'low', 'intermediate', 'unclassified', 'hidden', 'high'],
  'common-practice': ['cystic', 'spongiform', 'mixed', 'hidden', 'mixed-suspicious', 'solid'],
};

function suspicionOf(id: PolicyId, grades: number): number {
  const order = worryOrder[id];
  const ranks = policyOf(id).grades.map((grade, place) => {
    if ((grades & (1 << place)) === 0) return -1;
    return order === undefined ? place : order.indexOf(String(grade));
  });
  return Math.max(...ranks);
}

/** Which nodules to weigh and which of them to propose for the needle, the first to do first; ids of the findings. */
export interface Selection {
  readonly weighed: readonly string[];
  readonly proposed: readonly string[];
}

/**
 * Chooses among several nodules: the outcome that is more for the needle, then suspicion, then size, then (so that the
 * order of telling changes nothing) the id. Proposes nodules to sample; where there are none, those where it is optional.
 */
export function selectForSampling(nodules: readonly WeighedNodule[]): Selection {
  const weighed = [...nodules].sort(bySuspicion).slice(0, mostNodules.weighed);
  const wanted = (['sample', 'optional'] as const).find((word) => weighed.some(({ outcome }) => outcome === word));
  const proposed = weighed.filter(({ outcome }) => outcome === wanted).slice(0, mostNodules.proposed);
  return { weighed: weighed.map(({ nodule }) => nodule.id), proposed: proposed.map(({ nodule }) => nodule.id) };
}

/**
 * Sorts the nodule that matters most to the front: the governing policy's grade, then (since the plain rule has one grade
 * for all solid nodules) the points it could reach in ACR TI-RADS, then size (Tessler 2017: score before size).
 */
export function bySuspicion(a: WeighedNodule, b: WeighedNodule): number {
  return (
    b.suspicion - a.suspicion ||
    acrPoints(b) - acrPoints(a) ||
    (b.nodule.size?.most ?? 0) - (a.nodule.size?.most ?? 0) ||
    (a.nodule.id < b.nodule.id ? -1 : 1)
  );
}

function acrPoints({ readings }: WeighedNodule): number {
  return readings['acr-2017'].points?.[1] ?? 0;
}
