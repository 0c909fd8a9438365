import { isIrregular, type Policy, type SeenNodule } from './policy.ts';

/*
 * EU-TIRADS. Russ G, Bonnema SJ, Erdogan MF, et al. Eur Thyroid J 2017;6:225-237. Sampled when strictly larger than
 * the size; categories 3 to 5 at or below it are followed. Category 2 is never sampled for diagnosis. A nodule hidden
 * by calcification has no category (our convention).
 */
const categories = {
  '2': { sampleOverMm: null },
  '3': { sampleOverMm: 20 },
  '4': { sampleOverMm: 15 },
  '5': { sampleOverMm: 10 },
} as const;

type Category = keyof typeof categories | 'none';

function category(seen: SeenNodule): Category {
  if (seen.composition === 'obscured') return 'none';
  if (seen.composition === 'cystic') return '2';
  if (seen.composition === 'spongiform' && seen.spongiformWhole) return '2';
  if (hasHighRiskFeature(seen)) return '5';
  return seen.echogenicity === 'hypoechoic' || seen.hypoechoicPart ? '4' : '3';
}

/**
 * Any one of: non-oval shape, irregular margin, microcalcification, marked hypoechogenicity. Extension out of the gland
 * counts as an irregular margin (our convention). Coarse and rim calcification leave the category alone (from memory).
 */
function hasHighRiskFeature(seen: SeenNodule): boolean {
  return (
    seen.shape === 'taller-than-wide' ||
    isIrregular(seen.edge) ||
    seen.edge === 'extension' ||
    seen.foci.includes('punctate') ||
    seen.echogenicity === 'very-hypoechoic'
  );
}

/** The policy `eu-2017`; its grades are the categories, and `none` for a hidden nodule. */
export const eu2017: Policy<Category> = {
  id: 'eu-2017',
  grades: ['none', '2', '3', '4', '5'],
  thresholdsMm: [10, 15, 20],
  grade: category,
  outcome: (grade, { mm }) => {
    if (grade === 'none') return 'undetermined';
    const { sampleOverMm } = categories[grade];
    if (sampleOverMm === null) return 'no-sampling';
    return mm > sampleOverMm ? 'sample' : 'follow-up';
  },
  level: (grade) => (grade === 'none' ? null : grade),
};
