/** What a needle's gauge means for sampling the thyroid; a larger number is a thinner needle. */
export type GaugeVerdict =
  | 'preferred'
  | 'accepted-bleeds-more'
  | 'refused-too-thick'
  | 'refused-not-whole'
  | 'ask-again';

/**
 * Judges a needle by its gauge. 23 to 27 G preferred, 22 G accepted with a note, 21 G and thicker refused, over 27 asked
 * again. 22-27 G usual (Case Rep Otolaryngol 2020:3727696); thin needles advised (Thyroid 2018, PMID 29742978); thicker
 * needle, more haematoma (Kwon et al., Iran J Radiol 2018). The cut at 21 G is our convention.
 */
export function judgeGauge(gauge: number): GaugeVerdict {
  if (!Number.isInteger(gauge)) return 'refused-not-whole';
  if (gauge <= 21) return 'refused-too-thick';
  if (gauge === 22) return 'accepted-bleeds-more';
  return gauge <= 27 ? 'preferred' : 'ask-again';
}
