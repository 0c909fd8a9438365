import { clotting, clottingStop } from './clotting.ts';
import type { Findings } from './findings.ts';
import { isChild } from './gates.ts';
import { knownFindings } from './known.ts';
import { isAimFelt } from './place.ts';
import type { Proposed } from './proposed.ts';
import type { Reason } from './reasons.ts';

/**
 * What is known that forbids this needle at this site whoever allows it; empty = nothing is. What is not known stops
 * nothing here: it is asked. Our convention, after the gates that each reason names.
 */
export function needleStops(findings: Findings, what: Proposed): readonly Reason[] {
  const known = knownFindings(findings);
  const stops: Reason[] = [];
  if (known.dangerSigns.present.includes('stridor')) stops.push('stridor');
  if (isChild(known)) stops.push('child');
  if (known.scan === 'hot') stops.push('hot-nodule');
  if (known.lump.present.includes('pulsates')) stops.push('pulsates');
  const clot = clottingStop(known);
  if (clot !== null) stops.push(clot);
  if (known.inr !== null && known.inr > clotting.inrMost) stops.push('inr-over-3');
  if (known.guidance !== true && isAimFelt(known, what) === false) stops.push('impalpable-without-guidance');
  return stops;
}
