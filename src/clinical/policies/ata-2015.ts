import { assertNever } from '../assert-never.ts';
import { isIrregular, type Outcome, type Policy, type SeenNodule } from './policy.ts';

/*
 * American Thyroid Association. Haugen BR, Alexander EK, Bible KC, et al. Thyroid 2016;26:1-133, Table 6: sampled from
 * the size upward ("greater than or equal"), followed below it. Very low suspicion: sampling may be considered from
 * 20 mm and watching is equally reasonable.
 */
const sampleFromMm = { high: 10, intermediate: 10, low: 15 } as const;
const veryLow = { considerFromMm: 20, followOverMm: 10 } as const;

/*
 * The table has no row for a bright nodule with a suspicious feature. Such nodules are not harmless (Valenzuela-Scheker,
 * touchREVIEWS Endocrinol 2024;20:58), so, our convention: sampled from 15 mm, no answer from 10 mm, followed below.
 */
const unclassified = { sampleFromMm: 15, silentFromMm: 10 } as const;

type Pattern = 'benign' | 'very-low' | 'low' | 'intermediate' | 'high' | 'unclassified' | 'hidden';

function pattern(seen: SeenNodule): Pattern {
  if (seen.composition === 'obscured') return 'hidden';
  if (seen.composition === 'cystic') return 'benign';
  if (seen.composition === 'spongiform') return 'very-low';
  const dark = seen.echogenicity === 'hypoechoic' || seen.echogenicity === 'very-hypoechoic';
  if (hasSuspiciousFeature(seen)) return dark ? 'high' : 'unclassified';
  if (seen.composition === 'solid') return dark ? 'intermediate' : 'low';
  return seen.eccentric ? 'low' : 'very-low';
}

/**
 * Irregular margin, microcalcification, taller than wide, broken rim with tissue pushing out, or extension out of the
 * gland. A blurred edge, coarse calcification and an intact rim are not in the table and do not count (our convention).
 */
function hasSuspiciousFeature(seen: SeenNodule): boolean {
  return (
    isIrregular(seen.edge) ||
    seen.edge === 'extension' ||
    seen.shape === 'taller-than-wide' ||
    seen.foci.includes('punctate') ||
    seen.foci.includes('rim-extrusion')
  );
}

function outcome(grade: Pattern, mm: number): Outcome {
  switch (grade) {
    case 'benign':
      return 'no-sampling';
    case 'very-low':
      if (mm >= veryLow.considerFromMm) return 'optional';
      return mm > veryLow.followOverMm ? 'follow-up' : 'no-sampling';
    case 'low':
    case 'intermediate':
    case 'high':
      return mm >= sampleFromMm[grade] ? 'sample' : 'follow-up';
    case 'unclassified':
      if (mm >= unclassified.sampleFromMm) return 'sample';
      return mm >= unclassified.silentFromMm ? 'undetermined' : 'follow-up';
    case 'hidden':
      return 'undetermined';
    default:
      return assertNever(grade);
  }
}

/** The policy `ata-2015`; its grades are the patterns, and `hidden` (printed `unclassified`) for a hidden nodule. */
export const ata2015: Policy<Pattern> = {
  id: 'ata-2015',
  grades: ['benign', 'very-low', 'low', 'intermediate', 'high', 'unclassified', 'hidden'],
  thresholdsMm: [10, 15, 20],
  grade: pattern,
  outcome: (grade, { mm }) => outcome(grade, mm),
  level: (grade) => (grade === 'hidden' ? 'unclassified' : grade),
};
