/**
 * Fluid that comes out of a lump. It is no material: of 389 nodules 18 % were cystic and bloody fluid did not separate cancer
 * from benign (PMID 10598203); fluid alone is called "not enough" by the laboratory (Thy1c).
 */

/**
 * How it looks, in the order of the digits. `clear`: as water, of which 3 in 12 were parathyroid (PMID 10855242); brown from a lump at the side
 * of the neck: a thyroid cancer's node is thought of (published case series of lateral neck cysts); `red`: red and fills again;
 * `pus`: an abscess (our convention: a doctor the same day, a culture pot).
 */
export const fluidLooks = ['clear', 'yellow', 'brown', 'red', 'pus'] as const;
export type FluidLook = (typeof fluidLooks)[number];

/**
 * What the laboratory wants its fluid in. Laboratories contradict each other, so it is asked, never assumed: a clean dry tube, cold, never
 * frozen (Manchester); as much alcohol of 50 % as there is fluid (Royal College of Pathologists of Australasia); others refuse
 * alcohol. `none`: it takes no fluid, so what settles is smeared at once and the rest is not sent (under 1 ml direct, more by its
 * sediment: one laboratory's handbook, seen as a copy). `ask`: nobody has asked this laboratory yet.
 */
export const fluidWays = ['plain', 'equal-alcohol', 'none', 'ask'] as const;
export type FluidWay = (typeof fluidWays)[number];

/** Millilitres that are taken for likely, of one lump. Our convention. */
export const FLUID_ML = { least: 0.1, most: 150 } as const;

/** What fluid asks for beyond being kept. */
export type FluidConcern = 'red' | 'pus' | 'clear' | 'brown';

/** The gravest thing that this fluid asks for, or null. `lateral`: from a lump at the side of the neck, not the thyroid. */
export function fluidConcern(look: FluidLook, lateral: boolean): FluidConcern | null {
  if (look === 'brown') return lateral ? 'brown' : null;
  return look === 'yellow' ? null : look;
}
