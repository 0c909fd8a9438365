import { storedAs } from '../../case/stored.ts';
import type { Assessment } from '../../clinical/indication.ts';
import type { Moment } from '../moment.ts';

/** The assessment that the case was decided on, or null before. */
export function decidedOf(moment: Moment): Assessment | null {
  return storedAs<Assessment>(moment.case?.decided?.assessment) ?? null;
}
