/** A needle on another day than the examination: what may have changed is asked anew before anything else. */

import { answered, type CaseField } from '../../case/answers.ts';
import { signFields } from '../../case/asked-parts.ts';
import { answerOf, type Case } from '../../case/case.ts';
import { storedAs } from '../../case/stored.ts';
import type { Assessment } from '../../clinical/indication.ts';
import type { Proposed } from '../../clinical/proposed.ts';
import { type Act, type Moment, record } from '../moment.ts';
import { dayText, localTime } from '../schedule.ts';
import { zoneOf } from './common.ts';

/**
 * What a day may change: danger signs, pregnancy, what the patient takes, INR, platelets, hours since a drip. Our
 * convention, after a published analogue for the INR (SDCEP 2022, anticoagulants in dentistry: within 24 h, or 72 h where
 * it is stable).
 */
const changeable: readonly CaseField[] = [
  ...signFields,
  'asked.bleeding',
  'bleeding',
  'otherThinner',
  'thinnerKind',
  'inr',
  'inrAgeHours',
  'changedSinceInr',
  'platelets',
  'ivAntiplateletHours',
  'patient.pregnant',
  'patient.pregnantWeeks',
];

/**
 * Whether the danger signs or the bleeding risk were asked on an earlier day than this one at the clinic, or the signs
 * never: an examination may be broken off and finished on the next day, and one of them put right then. What was forgotten
 * to be asked anew, and not asked since because the patient left meanwhile, is as old.
 */
export function isStale(moment: Moment): boolean {
  if (answerOf(moment.case!, 'asked-anew') === 'asking') return true;
  const { dangerSigns, bleeding } = moment.case!.answeredAt;
  const day = (instant: number): string => dayText(localTime(instant, zoneOf(moment)));
  const isOfToday = (at: number): boolean => day(at) === day(moment.now);
  return dangerSigns === undefined || !isOfToday(dangerSigns) || (bleeding !== undefined && !isOfToday(bleeding));
}

/** Forgets what a day may change, so that it is asked; the decision that follows is held against the one before. */
export function askAnew(moment: Moment): readonly Act[] {
  const of = moment.case!;
  const said = changeable.filter((field) => answerOf(of, field) !== undefined && answerOf(of, field) !== null);
  return [
    ...said.map((field) => record({ type: 'answered', field, item: null, value: null })),
    record(answered('asked-anew', 'asking')),
  ];
}

/** Whether what was asked anew came to the decision of before: kept for the conversation, which then goes straight on. */
export function decidedAnew(
  moment: Moment,
  now: Pick<Assessment, 'decision' | 'because' | 'cautions' | 'sampleToo' | 'proposed'>,
): readonly Act[] {
  const of = moment.case!;
  const asked = answerOf(of, 'asked-anew') ?? null;
  if (asked === null) return [];
  if (asked !== 'asking') return [record(answered('asked-anew', null))];
  const before = storedAs<Assessment>(of.decided?.assessment);
  const isSame =
    of.decided?.decision === now.decision &&
    before?.sampleToo === now.sampleToo &&
    (before?.because ?? []).join() === now.because.join() &&
    (before?.cautions ?? []).join() === now.cautions.join() &&
    aimedAt(of.decided.proposed) === aimedAt(now.proposed) &&
    measured(of.decided.proposed) === measured(now.proposed);
  return [record(answered('asked-anew', isSame ? 'same' : 'changed'))];
}

/** The lumps and nodes of a proposal, whatever else is known of them. */
export function aimedAt(proposed: readonly Proposed[]): string {
  return proposed.map(({ kind, nodule }) => `${kind} ${nodule}`).join();
}

/** Side and size of each, as far as they are known. */
function measured(proposed: readonly Proposed[]): string {
  return proposed.map(({ site, mm }) => `${site} ${mm}`).join();
}

/** Whether the patient is here for the needle that was agreed, and what was asked anew has changed nothing. */
export function isAsBefore(of: Case): boolean {
  return answerOf(of, 'asked-anew') === 'same' && answerOf(of, 'go-ahead') === 'now';
}
