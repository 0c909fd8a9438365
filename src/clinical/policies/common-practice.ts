import { assertNever } from '../assert-never.ts';
import { isIrregular, type Outcome, type Policy, type SeenNodule, type SeenSize } from './policy.ts';

/*
 * The plain rule of poorly equipped sites (common practice, no source): a solid nodule over 10 mm is suspicious and is
 * sampled, a smaller one is followed, a cystic or spongiform one is not sampled.
 */
export const solidSampleOverMm = 10;

/*
 * The rule is silent on nodules part fluid, part solid; there the size of the solid part decides, strictly larger than:
 * NCCN Guidelines for Patients, Thyroid cancer 1.2017, Guide 4.
 */
const solidPartSampleOverMm = { suspicious: 10, plain: 15 } as const;

/** Every size of a solid part, mm, at which this policy's outcome can change. */
export const solidPartThresholdsMm: readonly number[] = Object.values(solidPartSampleOverMm);

type Grade = 'cystic' | 'spongiform' | 'mixed' | 'mixed-suspicious' | 'solid' | 'hidden';

function grade(seen: SeenNodule): Grade {
  if (seen.composition === 'obscured') return 'hidden';
  if (seen.composition !== 'mixed') return seen.composition;
  return hasStrengtheningFeature(seen) ? 'mixed-suspicious' : 'mixed';
}

/**
 * Asymmetric shape, microcalcification, irregular or spiculated edge, invasion of the capsule: they strengthen the
 * suspicion of a solid nodule (common practice, no source). The NCCN page does not list its suspicious features; these
 * four are read for them (our convention).
 */
function hasStrengtheningFeature(seen: Pick<SeenNodule, 'shape' | 'edge' | 'foci'>): boolean {
  return (
    seen.shape === 'taller-than-wide' ||
    seen.foci.includes('punctate') ||
    isIrregular(seen.edge) ||
    seen.edge === 'extension'
  );
}

function outcome(graded: Grade, { mm, solidPartMm }: SeenSize): Outcome {
  switch (graded) {
    case 'cystic':
    case 'spongiform':
      return 'no-sampling';
    case 'solid':
      return mm > solidSampleOverMm ? 'sample' : 'follow-up';
    case 'mixed':
    case 'mixed-suspicious': {
      if (solidPartMm === null) return 'undetermined';
      const overMm = solidPartSampleOverMm[graded === 'mixed' ? 'plain' : 'suspicious'];
      return solidPartMm > overMm ? 'sample' : 'follow-up';
    }
    case 'hidden':
      return 'undetermined';
    default:
      return assertNever(graded);
  }
}

/** The policy `common-practice`; it prints no levels. */
export const commonPractice: Policy<Grade> = {
  id: 'common-practice',
  grades: ['cystic', 'spongiform', 'mixed', 'mixed-suspicious', 'solid', 'hidden'],
  thresholdsMm: [10],
  grade,
  outcome,
  level: () => null,
};
