/** A case's band: where it stands, who holds it, until when, and what happens if nobody answers. Pure. */
import { formatCode } from '../../../case/code.ts';
import { dutyOf } from '../../../case/duty.ts';
import { dutyTimes } from '../../../conversation/duties.ts';
import { siteOf } from '../../../conversation/programme.ts';
import { forecastOf, type Matter } from './forecast.ts';
import { holderOf, type Place } from './people-of.ts';
import { ifNobody } from './sentence.ts';
import { stepsOf } from './steps.ts';
import type { CaseStrip } from './strip.ts';
import type { Say } from './words.ts';

/**
 * The strip of a case as it stands at `now` (ms). An open case always has a holder, an instant and a sentence, from what
 * it owes (`dutyOf`), its open questions and the rows that are due later; a closed one has none.
 */
export function caseStrip(matter: Matter, place: Place, now: number, say: Say): CaseStrip {
  const { of } = matter;
  const duty = dutyTimes(place.programme, of.siteId, (msOf, dayStart) => dutyOf(of, msOf, dayStart));
  const open = of.specimens.filter((one) => one.end === null);
  const codes = (open.length > 0 ? open : of.specimens).map((one) => formatCode(one.code));
  const common = {
    caseId: of.id,
    tag: of.tag,
    code: codes.length === 0 ? null : codes.join(' + '),
    closed: of.status === 'closed',
    practice: of.practice,
    zone: siteOf(place.programme, of.siteId).zone,
    steps: stepsOf(of, duty),
  };
  if (duty === null) return { ...common, holder: null, until: null, ifNobody: '' };
  const forecast = forecastOf(matter, duty, place, now);
  const isAsked = forecast.kind === 'climbs' && forecast.question.askedOf.length > 0;
  const role = isAsked ? 'doctor' : duty.owner;
  return {
    ...common,
    holder: holderOf(forecast.who, role) ?? { name: say('strip-nobody'), role },
    until: forecast.at,
    ifNobody: ifNobody(forecast, { of, duty, place, now, say }),
  };
}
