import { isIrregular, type Outcome, type Policy, type SeenNodule } from './policy.ts';

/*
 * ACR TI-RADS. Tessler FN, Middleton WD, Grant EG, et al. J Am Coll Radiol 2017;14:587-595, Figure 1 (the chart of
 * the American College of Radiology). Points of the five categories are added; of the foci all that apply.
 */
const points = {
  composition: { cystic: 0, spongiform: 0, mixed: 1, solid: 2, obscured: 2 },
  echogenicity: { anechoic: 0, hyperechoic: 1, isoechoic: 1, hypoechoic: 2, 'very-hypoechoic': 3 },
  shape: { 'wider-than-tall': 0, 'taller-than-wide': 3 },
  edge: { smooth: 0, 'ill-defined': 0, irregular: 2, extension: 3 },
  foci: { macrocalcification: 1, rim: 2, punctate: 3 },
} as const;

/** Level, least points, size in mm from which to sample and from which to follow: all "greater than or equal". */
const levels = [
  { level: 'TR1', fromPoints: 0, sampleFromMm: null, followFromMm: null },
  { level: 'TR2', fromPoints: 1, sampleFromMm: null, followFromMm: null },
  { level: 'TR3', fromPoints: 3, sampleFromMm: 25, followFromMm: 15 },
  { level: 'TR4', fromPoints: 4, sampleFromMm: 15, followFromMm: 10 },
  { level: 'TR5', fromPoints: 7, sampleFromMm: 10, followFromMm: 5 },
] as const;

const mostPoints = 17;

/**
 * Points of a nodule, 0 to 17. A cystic or spongiform nodule earns none, whatever else is seen. A nodule hidden by
 * calcification counts as solid (from memory). One point cannot arise in a nodule that exists; it is read as TR2.
 */
function acrPoints(seen: SeenNodule): number {
  if (seen.composition === 'cystic' || seen.composition === 'spongiform') return 0;
  const { foci } = seen;
  return (
    points.composition[seen.composition] +
    points.echogenicity[seen.echogenicity] +
    points.shape[seen.shape] +
    points.edge[isIrregular(seen.edge) ? 'irregular' : seen.edge] +
    (foci.includes('macrocalcification') ? points.foci.macrocalcification : 0) +
    (foci.includes('rim-calcification') || foci.includes('rim-extrusion') ? points.foci.rim : 0) +
    (foci.includes('punctate') ? points.foci.punctate : 0)
  );
}

function row(total: number) {
  const found = levels.findLast((level) => total >= level.fromPoints);
  return found ?? levels[0];
}

function outcome(total: number, mm: number): Outcome {
  const { sampleFromMm, followFromMm } = row(total);
  if (sampleFromMm !== null && mm >= sampleFromMm) return 'sample';
  if (followFromMm !== null && mm >= followFromMm) return 'follow-up';
  return 'no-sampling';
}

/** The policy `acr-2017`; its grades are the points. */
export const acr2017: Policy<number> = {
  id: 'acr-2017',
  grades: Array.from({ length: mostPoints + 1 }, (_, total) => total),
  thresholdsMm: [5, 10, 15, 25],
  grade: acrPoints,
  outcome: (total, { mm }) => outcome(total, mm),
  level: (total) => row(total).level,
};
