import type { Growth } from '../nodule.ts';
import { isBenign } from './action.ts';
import type { CanonicalCategory } from './categories.ts';

/** A finding that a benign result contradicts. */
export type DiscordantFinding = 'danger-signs' | 'grown' | 'named-type' | 'ata-high' | 'eu-5' | 'tr5';

/** Findings of the sampled nodule; levels list every one that its unknowns leave open. */
export type FindingsForResult = {
  readonly dangerSigns: readonly string[];
  /** Against an earlier examination; null = there was none. */
  readonly growth: Growth | null;
  /** A type of tumour that the laboratory names beside it. */
  readonly namesType: boolean;
  readonly ataLevels: readonly string[];
  readonly euLevels: readonly string[];
  readonly acrLevels: readonly string[];
};

/** Whether something speaks against a harmless end, and what. */
export interface AgainstHarmless {
  readonly contradicts: 'yes' | 'possible' | 'no';
  readonly because: readonly DiscordantFinding[];
}

/**
 * Says whether a benign result (Thy2, Thy2c) contradicts the findings: danger signs, growth, a type that the laboratory names,
 * ATA high, EU-TIRADS 5 or ACR TR5. `yes` if one holds for certain, `possible` if unknown features, or sizes that cannot be
 * compared, leave one open, `no` otherwise and for every other category. That a benign result with suspicious findings needs
 * another look: BTA 2014, from memory; with growth: Haugen, Thyroid 2016;26:1, recommendation 23, from memory.
 */
export function contradictsFindings(category: CanonicalCategory, findings: FindingsForResult): AgainstHarmless {
  return isBenign(category) ? findingsAgainst(findings) : { contradicts: 'no', because: [] };
}

/** What of the findings speaks against a harmless end, whatever the result was: a cyst of which nothing is left has none. */
export function findingsAgainst(findings: FindingsForResult): AgainstHarmless {
  const certain: DiscordantFinding[] = [];
  const open: DiscordantFinding[] = [];
  const signs = findings.dangerSigns.filter((sign) => sign !== 'unknown');
  if (signs.length > 0) certain.push('danger-signs');
  else if (findings.dangerSigns.length > 0) open.push('danger-signs');
  if (findings.growth === 'grown') certain.push('grown');
  if (findings.growth === 'not-known') open.push('grown');
  if (findings.namesType) certain.push('named-type');
  weigh('ata-high', 'high', findings.ataLevels);
  weigh('eu-5', '5', findings.euLevels);
  weigh('tr5', 'TR5', findings.acrLevels);
  if (certain.length > 0) return { contradicts: 'yes', because: certain };
  return open.length > 0 ? { contradicts: 'possible', because: open } : { contradicts: 'no', because: [] };

  function weigh(finding: DiscordantFinding, worst: string, levels: readonly string[]): void {
    if (!levels.includes(worst)) return;
    (levels.every((level) => level === worst) ? certain : open).push(finding);
  }
}
