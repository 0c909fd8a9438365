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
 * What a day may change: danger signs, pregnancy, what the patient takes, INR, platelets, hours since a drip; each subject is
 * asked as a whole. Our convention, after a published analogue for the INR (SDCEP 2022, anticoagulants in dentistry: within
 * 24 h, or 72 h where it is stable).
 */
const changeable: readonly (readonly CaseField[])[] = [
  signFields,
  [
    'asked.bleeding',
    'bleeding',
    'otherThinner',
    'thinnerKind',
    'inr',
    'inrAgeHours',
    'changedSinceInr',
    'platelets',
    'ivAntiplateletHours',
  ],
  ['patient.pregnant', 'patient.pregnantWeeks'],
];

const isKnown = (of: Case, field: CaseField): boolean => (answerOf(of, field) ?? null) !== null;

/**
 * Whether some of this was said on an earlier day than this one at the clinic. One question of several may have been asked
 * then and the rest today, so that each one's own day counts.
 */
export function isOfEarlierDay(moment: Moment, of: Case, fields: readonly CaseField[]): boolean {
  const day = (instant: number): string => dayText(localTime(instant, zoneOf(moment)));
  return fields.some((field) => isKnown(of, field) && day(of.answeredAt[field] ?? of.openedAt) !== day(moment.now));
}

/**
 * Whether some of what a day may change is of an earlier one, or the danger signs are not known at all: an examination may be
 * broken off and finished on the next day, and a part of it put right then. What was forgotten to be asked anew, and not
 * asked since because the patient left meanwhile, is as old.
 */
export function isStale(moment: Moment): boolean {
  if (answerOf(moment.case!, 'asked-anew') === 'asking') return true;
  const of = moment.case!;
  return !isKnown(of, 'dangerSigns') || changeable.some((fields) => isOfEarlierDay(moment, of, fields));
}

/**
 * Forgets what a day may change, so that it is asked; the decision that follows is held against the one before. A subject that
 * was asked today stays, unless the asking anew was broken off.
 */
export function askAnew(moment: Moment): readonly Act[] {
  const of = moment.case!;
  const isBrokenOff = answerOf(of, 'asked-anew') === 'asking';
  const old = changeable.filter((fields) => isBrokenOff || isOfEarlierDay(moment, of, fields)).flat();
  return [
    ...old.filter((field) => isKnown(of, field)).map((field) => record(answered(field, null))),
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
