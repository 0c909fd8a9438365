import type { Findings } from './findings.ts';
import { isChild } from './gates.ts';
import { knownFindings } from './known.ts';

/**
 * The cyst that a doctor may have emptied here for what it does: all fluid, in an adult whose breathing is known to be quiet,
 * who is known to take no blood thinner and to have no bleeding disorder; the largest of several. Null where there is none.
 * For pressure or a visible lump only, never a silent cyst (our convention, after the American Thyroid Association's
 * recommendation 28); 50 to 80 % fill again after simple drainage (e-ultrasonography, review of ethanol ablation). Pure.
 */
export function drainableCyst(findings: Findings): string | null {
  const known = knownFindings(findings);
  const { dangerSigns, bleeding, lump, nodules } = known;
  const isCalm = !dangerSigns.open && !dangerSigns.present.includes('stridor');
  const isDry = !bleeding.open && bleeding.present.length === 0;
  if (!isCalm || !isDry || lump.present.includes('pulsates') || known.ageYears === null || isChild(known)) return null;
  const cysts = (nodules ?? []).filter(({ composition }) => composition === 'cystic');
  const [largest] = [...cysts].sort((one, other) => (other.size?.most ?? 0) - (one.size?.most ?? 0));
  return largest?.id ?? null;
}
