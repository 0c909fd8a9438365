import type { Site } from './findings.ts';
import { allowsWithoutUltrasound } from './gates.ts';
import type { KnownFindings, KnownNodule } from './known.ts';
import { isFelt, type Place, placeOf } from './place.ts';
import type { Score } from './score.ts';
import { bySuspicion, raised, selectForSampling, type WeighedNodule } from './several-nodules.ts';

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

/** What could be proposed, and where it could be sampled. */
export interface Candidate {
  readonly what: Proposed;
  readonly felt: boolean | null;
  readonly place: Place;
}

/**
 * What a needle is for in an ordinary decision: the nodules that the governing policy samples, else those where it is
 * optional. Where the score leaves it to the doctor: the most suspicious nodule, or the lump that was felt and not seen.
 */
export function candidatesOf(
  known: KnownFindings,
  nodules: readonly WeighedNodule[],
  score: Score,
): readonly Candidate[] {
  const { proposed } = selectForSampling(nodules);
  const chosen = proposed.flatMap((id) => nodules.filter(({ nodule }) => nodule.id === id));
  if (chosen.length > 0) return chosen.map(({ nodule }) => candidate(known, nodule));
  if (score.decision !== 'ask-doctor') return [];
  const [first] = [...nodules].sort(bySuspicion);
  if (first !== undefined) return [candidate(known, first.nodule)];
  return known.palpable === true ? [feltLump] : [];
}

/**
 * What a needle is for while an urgent referral is under way: the sign's own reason. A neck node lifts the size rule of
 * the nodule, not the look of a cyst or a sponge: footnotes of Haugen, Thyroid 2016;26:1, Table 6, and of a table of
 * EU-TIRADS in Int J Endocrinol 2021:9924041; under 5 mm no nodule (our convention).
 */
export function urgentCandidates(
  known: KnownFindings,
  nodules: readonly WeighedNodule[],
  score: Score,
): readonly Candidate[] {
  const usual = candidatesOf(known, nodules, score);
  const hasNode = known.dangerSigns.present.includes('neck-nodes');
  const [lifted] = [...nodules].sort(bySuspicion).filter(({ nodule }) => mayBeRaised(nodule));
  const isRaised = hasNode || allowsWithoutUltrasound(known);
  const lumps = usual.length === 0 && isRaised && lifted !== undefined ? [candidate(known, lifted.nodule)] : usual;
  return hasNode ? [neckNode, ...lumps] : lumps;
}

const mayBeRaised = ({ composition, size }: KnownNodule): boolean =>
  composition !== 'cystic' && composition !== 'spongiform' && (size?.most ?? 0) >= raised.considerFromMm;

/** A node is found by hand: its side, size and level are asked before a code is issued. */
const neckNode: Candidate = {
  what: { kind: 'node', nodule: null, site: null, mm: null },
  felt: true,
  place: 'here',
};

const feltLump: Candidate = {
  what: { kind: 'nodule', nodule: null, site: null, mm: null },
  felt: true,
  place: 'here',
};

function candidate(known: KnownFindings, nodule: KnownNodule): Candidate {
  const felt = isFelt(known, nodule);
  const what: Proposed = { kind: 'nodule', nodule: nodule.id, site: nodule.site, mm: nodule.size?.most ?? null };
  return { what, felt, place: placeOf(felt, known.guidance) };
}
