import { findingsOf } from '../../case/findings-of.ts';
import type { Findings } from '../../clinical/findings.ts';
import type { Moment } from '../moment.ts';
import { siteOf } from '../programme.ts';
import { localTime } from '../schedule.ts';

/** The case's findings as the clinical rules read them. */
export function findingsNow(moment: Moment): Findings {
  const site = siteOf(moment.world.programme, moment.case!.siteId);
  return findingsOf(moment.case!, { guidance: site.guidance, year: localTime(moment.now, site.zone).year });
}
