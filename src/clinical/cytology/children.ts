import type { BethesdaNumeral, CytologyCode } from './categories.ts';
import { canonicalOf, crosswalk } from './crosswalk.ts';

/** What the publication says to do in a child, where it says so. */
export interface ManagementInChildren {
  readonly management: string;
  readonly source: string;
}

/** Bethesda 2023, column of children (PMC10600596, table 3): no molecular test and no surveillance is in it. */
const BETHESDA: { readonly [numeral in BethesdaNumeral]: string } = {
  I: 'repeat needle with ultrasound',
  II: 'clinical and ultrasound follow-up',
  III: 'repeat needle, or lobectomy',
  IV: 'surgical resection',
  V: 'surgical resection',
  VI: 'surgical resection',
};

/**
 * Management of children differs from adults' from Bethesda III on. Only the Bethesda publication was read for them: for
 * another system it is that of its Bethesda category, and said as such.
 */
export function managementInChildren(code: CytologyCode): ManagementInChildren | null {
  const numeral = crosswalk(canonicalOf(code)).bethesda[0];
  if (numeral === undefined) return null;
  const own = code.startsWith('Bethesda');
  return {
    management: BETHESDA[numeral],
    source: `Bethesda 2023, children (PMC10600596, table 3)${own ? '' : `, by the crosswalk to Bethesda ${numeral}`}`,
  };
}
