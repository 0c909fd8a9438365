/**
 * What goes with a needle into a lymph node where tuberculosis is possible. Suction is used there, and released before the
 * needle comes out: without it a third of neck nodes gave nothing, tuberculosis more often (bjorl.org: 47 of 131, odds ratio
 * 2.35; MSF medical guidelines, appendix 7). That it is used for every node is our convention.
 */

/** Sterile 0.9 % saline into which needle and syringe are flushed for the test of tuberculosis, ml (MSF medical guidelines, node 1199). */
export const POT_SALINE_ML = 1;

/** Longest time to the laboratory, cool and not frozen, hours: our convention (laboratories say from the same day to a week). */
export const POT_HOURS = 24;

/** Strength of that saline, percent (MSF medical guidelines, node 1199). */
export const SALINE_PERCENT = 0.9;

/** How cold the pot is kept, degrees Celsius, never frozen: our convention. */
export const POT_CELSIUS = { least: 2, most: 8 } as const;
