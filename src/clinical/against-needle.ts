import { inrHours } from './clotting.ts';
import type { Findings } from './findings.ts';
import { dangerSignsGate, gatesBeforeScore } from './gates.ts';
import { knownFindings } from './known.ts';
import { needleStops } from './needle-stops.ts';
import type { Proposed } from './proposed.ts';
import type { Reason } from './reasons.ts';

/**
 * What stands against a needle into this, whatever the score says: of every gate, stopped or open, not of the first alone.
 * `hours`: for how long an INR counts. Pure.
 */
export function againstNeedle(findings: Findings, what: Proposed, hours: number = inrHours.settled): readonly Reason[] {
  const known = knownFindings(findings);
  const ofGates = [dangerSignsGate, ...gatesBeforeScore].flatMap((gate): readonly Reason[] => {
    const result = gate(known, { needle: true, inrHours: hours });
    if (result.kind === 'pass') return [];
    return result.kind === 'stop' ? result.because : [result.because];
  });
  return [...new Set([...needleStops(findings, what), ...ofGates])];
}
