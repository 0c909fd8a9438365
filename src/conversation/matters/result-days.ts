/** Days that a result asks for. */
import { currentResult } from '../../case/case.ts';
import type { Deadline } from '../../clinical/cytology/action.ts';
import type { Moment } from '../moment.ts';
import { durationOf } from '../programme.ts';
import { addDays, type Day, instantOf, localTime, parseDay } from '../schedule.ts';
import { zoneOf } from './common.ts';
import { nodeActionOf, resultAction, resultKind, reviewOf } from './result-kind.ts';

/** The specimen that this conversation is about. */
export function specimenId(moment: Moment): string {
  return moment.specimen!.id;
}

function resultDay(moment: Moment): Day {
  return localTime(currentResult(moment.specimen!)!.at, zoneOf(moment));
}

/** By when the patient is called in. What does not fit the findings is brought in like a result that cannot be told (our convention). */
export function bringDay(moment: Moment): Day {
  const kind = resultKind(moment.case!, specimenId(moment));
  if (kind !== 'discordant') return dayOf(moment, deadlineOf(moment));
  const named = (currentResult(moment.specimen!)?.result.types ?? []).length > 0;
  if (named) return resultDay(moment);
  return addDays(resultDay(moment), Math.round(durationOf(moment.world.programme, 'told-thy3') / 86_400_000));
}

function deadlineOf(moment: Moment): Deadline {
  const node = nodeActionOf(moment.case!, specimenId(moment));
  return node
    ? { unit: 'days', notBefore: 0, latest: node.latestDays }
    : resultAction(moment.case!, specimenId(moment)).deadline;
}

/** True: the day is a first one, not a last one. */
export function isFirstDay(moment: Moment): boolean {
  return deadlineOf(moment).latest === null;
}

/** Last day of a deadline, from the day of the result; workdays skip Saturday and Sunday. */
function dayOf(moment: Moment, deadline: Deadline): Day {
  let day = resultDay(moment);
  let left = deadline.latest ?? deadline.notBefore;
  if (deadline.unit === 'days') return addDays(day, left);
  while (left > 0) {
    day = addDays(day, 1);
    const weekday = localTime(instantOf(day, 12, zoneOf(moment)), zoneOf(moment)).weekday;
    if (weekday <= 5) left -= 1;
  }
  return day;
}

/** The next look at a benign lump: the first day of a span, the last one of "within". A benign node has its own time. */
export function reviewDay(moment: Moment): Day {
  if (nodeActionOf(moment.case!, specimenId(moment))) return dayOf(moment, deadlineOf(moment));
  const { deadline } = reviewOf(moment.case!, specimenId(moment));
  const days = deadline.notBefore > 0 ? deadline.notBefore : (deadline.latest ?? 0);
  return addDays(resultDay(moment), days);
}

/** The day on which the patient goes, or null. */
export function appointmentOf(moment: Moment): Day | null {
  return moment.specimen?.appointedOn ? parseDay(moment.specimen.appointedOn) : null;
}
