/** The cyst that could be emptied at this clinic. */
import { proposedNodule } from '../../case/stored-events.ts';
import { drainableCyst } from '../../clinical/drainage.ts';
import { needleStops } from '../../clinical/needle-stops.ts';
import type { Proposed } from '../../clinical/proposed.ts';
import type { Moment } from '../moment.ts';
import { findingsNow } from './findings-now.ts';

/** What a doctor may choose to have emptied; null: there is none, or neither finger nor probe leads the needle into it. */
export function cystInReach(moment: Moment): Proposed | null {
  const findings = findingsNow(moment);
  const cyst = drainableCyst(findings);
  if (cyst === null) return null;
  const proposed = proposedNodule(moment.case!, cyst);
  return needleStops(findings, proposed).length === 0 ? proposed : null;
}
