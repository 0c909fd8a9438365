/** Greys of a drawn sonogram: what is said to be darker is drawn darker, beside the thyroid and the muscle it is told by. */
import type { Echogenicity } from '../../clinical/findings.ts';

export const tissue = {
  gel: '#c9c9c9',
  fat: '#8f8f8f',
  muscle: '#565656',
  thyroid: '#a6a6a6',
  line: '#f6f6f6',
} as const;

/** Bright as calcium, black as fluid and as what lies in a shadow. */
export const bright = '#ffffff';
export const fluid = '#0d0d0d';
export const shadow = '#000000';

/** The grey of a lump by its echo; `isoechoic` is the thyroid's own, `hypoechoic` lies between thyroid and muscle. */
export const echoGrey = {
  hyperechoic: '#dadada',
  isoechoic: tissue.thyroid,
  hypoechoic: '#767676',
  'very-hypoechoic': '#303030',
  anechoic: fluid,
} as const satisfies { readonly [E in Echogenicity]: string };
