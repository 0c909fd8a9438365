import type { FindingsField } from './findings.ts';
import { dangerSignsGate, gatesBeforeScore } from './gates.ts';
import type { KnownFindings } from './known.ts';
import type { Reason } from './reasons.ts';

/**
 * Reasons against a needle that nobody lifts from far away: what waits would cost the patient more than the needle could
 * tell, or the needle itself would harm. A child's sizes and guidance are a hospital's (Francis GL, et al. Thyroid
 * 2015;25:716); a hot nodule is not sampled (Haugen, Thyroid 2016;26:1); the others are our convention for a site without
 * rescue.
 */
export const lastingStops: ReadonlySet<Reason> = new Set<Reason>([
  'stridor',
  'child',
  'hot-nodule',
  'bleeding-disorder',
  'platelets-under-20',
  'inr-over-3',
  'impalpable-without-guidance',
]);

/** What stands against a needle, whatever the score says: of every gate, stopped or open, not of the first alone. */
export interface AgainstNeedle {
  readonly reasons: readonly Reason[];
  readonly missing: readonly FindingsField[];
}

/** Asks every gate as though a needle were in question. `felt`: whether what it would go into is felt. Pure. */
export function againstNeedle(known: KnownFindings, felt: boolean | null): AgainstNeedle {
  const results = [dangerSignsGate, ...gatesBeforeScore].flatMap((gate) => {
    const result = gate(known, true);
    if (result.kind === 'pass') return [];
    return [{ reasons: result.kind === 'stop' ? result.because : [result.because], missing: result.missing }];
  });
  const blind = felt === true || known.guidance === true ? [] : (['impalpable-without-guidance'] as const);
  return {
    reasons: [...new Set([...results.flatMap((one) => one.reasons), ...blind])],
    missing: [...new Set(results.flatMap((one) => one.missing))],
  };
}
