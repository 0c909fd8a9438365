/**
 * Needles by gauge, in G; a larger number is a thinner needle. 23 to 27 are preferred, 22 is accepted with a note, 21 and
 * thicker are refused. 22-27 G usual (Case Rep Otolaryngol 2020:3727696); thin needles advised (Thyroid 2018, PMID
 * 29742978); thicker needle, more haematoma (Kwon et al., Iran J Radiol 2018). The cut at 21 G is our convention.
 */
export const NEEDLE_GAUGE = { refusedFrom: 21, noted: 22, preferred: { thickest: 23, thinnest: 27 } } as const;
