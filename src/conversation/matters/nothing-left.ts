/** A cyst that was looked at again and of which nothing is left: no needle can answer, so a doctor agrees to the end. */
import { answeredOf } from '../../case/answers.ts';
import { currentResult } from '../../case/case.ts';
import { isLumpGone } from '../../case/duty.ts';
import type { KeyIn } from '../../generated/text-keys.ts';
import { type Act, type Matter, type Moment, record } from '../moment.ts';
import { type Day, parseDay } from '../schedule.ts';
import { askAgainOn } from './again.ts';
import { settleQuestion } from './close-question.ts';
import { dayWords, textAnswer } from './common.ts';
import { openAboutResult, question } from './filing.ts';
import { followUpDay } from './follow-up-day.ts';
import { specimenId } from './result-days.ts';
import { nodeActionOf, resultAction, speaksAgainstGone } from './result-kind.ts';

/** Cells that the laboratory could not read because they were those of a cyst, or perhaps were. */
function mayBeCyst(moment: Moment): boolean {
  if (nodeActionOf(moment.case!, specimenId(moment))) return false;
  const { next } = resultAction(moment.case!, specimenId(moment));
  return next === 'look-for-residual-lump' || next === 'ask-if-cyst-then-repeat';
}

/** When a lump that is gone is looked at again: by the programme's policy, from the day of the result. */
function goneReviewDay(moment: Moment): Day {
  return followUpDay(moment, currentResult(moment.specimen!)!.at);
}

/** The doctors are asked this instead of what they were asked about the result, the sooner where findings speak against it. */
function askIfEnough(moment: Moment): readonly Act[] {
  const against = speaksAgainstGone(moment.case!, specimenId(moment)) === 'yes';
  const urgency = against ? 'this-week' : 'routine';
  const asked = question('nothing-left', urgency, ['agree 1', 'repeat 2', 'refer 3', 'call-me 4']);
  return [
    ...openAboutResult(moment, specimenId(moment)).flatMap((one) =>
      settleQuestion(one, { now: moment.now, by: 'line', answer: 'replaced' }),
    ),
    { do: 'question', question: asked },
  ];
}

const againstKeys = { yes: 'gone-against', possible: 'gone-perhaps', no: null } as const satisfies Readonly<
  Record<'yes' | 'possible' | 'no', KeyIn<'action'> | null>
>;

function againstText(moment: Moment): string {
  const key = againstKeys[speaksAgainstGone(moment.case!, specimenId(moment))];
  return key === null ? '' : moment.world.texts.render(moment.person.locale, `action.${key}`, () => '');
}

function dayText(moment: Moment, day: Day): string {
  return dayWords(day, moment.world.texts.months(moment.person.locale));
}

/** What the clinic did about a result that a doctor has not read yet. */
function clinicDidText(moment: Moment): string {
  const day = parseDay(textAnswer(moment, 'repeat-day', specimenId(moment)));
  const key = clinicDid(moment);
  return moment.world.texts.render(moment.person.locale, `duty.${key}`, () => (day ? dayText(moment, day) : ''));
}

function clinicDid({ case: of, specimen }: Moment): KeyIn<'duty'> & `clinic-${string}` {
  if (specimen?.seen === true) return 'clinic-seen';
  return specimen !== null && isLumpGone(of!, specimen) ? 'clinic-found-none' : 'clinic-booked';
}

export const nothingLeft: Matter = {
  decisions: { 'may-be-cyst': { outcomes: ['yes', 'no'], decide: (m) => (mayBeCyst(m) ? 'yes' : 'no') } },
  recorders: {
    'nothing-left': (m) => [record({ type: 'told', specimen: specimenId(m), outcome: 'agrees' }), ...askIfEnough(m)],
    'gone-reviewed': (m) => [
      askAgainOn(m, goneReviewDay(m)),
      record({ type: 'specimen-closed', specimen: specimenId(m), end: 'reviewed' }),
    ],
    'look-after-all': (m) => [record(answeredOf('repeat', specimenId(m), null))],
  },
  values: {
    goneReviewDay: {
      of: (m) => `${dayText(m, goneReviewDay(m))} ${goneReviewDay(m).year}`,
      sample: '12 SEP 2031',
    },
    goneAgainst: { of: againstText, sample: 'That does not fit the findings.' },
    clinicDid: { of: clinicDidText, sample: 'looked and found no lump left' },
  },
};
