/** What the findings come to if they are weighed now, and what a needle would go into by that. */
import { type Assessment, assess } from '../../clinical/indication.ts';
import type { Proposed } from '../../clinical/proposed.ts';
import type { Moment } from '../moment.ts';
import { standingYes } from './doctor-yes.ts';
import { drainNow } from './drainage.ts';
import { findingsNow } from './findings-now.ts';
import { impliedNow } from './target.ts';

export interface WeighedNow {
  readonly assessment: Assessment;
  /** As `drainNow`. */
  readonly drain: Proposed | 'lost' | null;
  /** Whether what a doctor allowed before can still count. */
  readonly isAllowed: boolean;
  /** What a needle would go into: the cyst that a doctor chose, else what the rules propose, else what a doctor's yes implies. */
  readonly aims: readonly Proposed[];
}

/** Weighs anew: what was proposed before may name lumps by the numbers that they had then, or come from before they were measured. */
export function weighedNow(moment: Moment): WeighedNow {
  const { policy, inrHours } = moment.world.programme;
  const assessment = assess(findingsNow(moment), { policy, inrHours });
  // A doctor's choice to empty a cyst is for that cyst, and gone with it.
  const drain = drainNow(moment, assessment.proposed);
  // An emergency has one reason and no needle, whatever a doctor allowed before.
  const isAllowed = assessment.decision !== 'emergency-now' && drain !== 'lost';
  if (isAllowed && drain !== null) return { assessment, drain, isAllowed, aims: [drain] };
  const isImplied = assessment.proposed.length === 0 && isAllowed && standingYes(moment) !== null;
  return { assessment, drain, isAllowed, aims: isImplied ? impliedNow(moment) : assessment.proposed };
}
