/** NOPARCEL 48291354: lost on the way. A doctor decides what the patient gets instead of a result. */
import { answered } from '../../case/answers.ts';
import { answerOf, type Case, specimenOf } from '../../case/case.ts';
import type { DueWhat } from '../event.ts';
import type { Interpreter } from '../interpret.ts';
import { type Act, type Matter, record } from '../moment.ts';
import { carrier } from '../people.ts';
import { durationOf } from '../programme.ts';
import type { Question } from '../state.ts';
import type { Turn } from '../turn.ts';
import { settleQuestion } from './close-question.ts';
import { caseByCode, codesIn, refuseCode } from './codes.ts';

/** Specimens that were posted, of which nobody has heard since. */
function onTheWay(of: Case): Case['specimens'] {
  return of.specimens.filter(
    (one) => one.end === null && one.postedAt !== null && one.receivedAt === null && one.results.length === 0,
  );
}

/** The doctor is being asked, or has sent the patient to the hospital already. */
function isAsked(turn: Turn, of: Case): boolean {
  if (answerOf(of, 'parcel') === 'referred') return true;
  return turn.questions.some((one) => one.caseId === of.id && one.about === 'parcel-lost' && one.answeredAt === null);
}

/** Asks the doctors, by the conversation of whoever carries the case. `nobody`: none of the site is on the line. */
export function askAboutParcel(turn: Turn, of: Case, item: string): 'asked' | 'asked-before' | 'nobody' {
  if (isAsked(turn, of)) return 'asked-before';
  const who = carrier(turn.world, of);
  if (!who) return 'nobody';
  turn.post(who.id, { kind: 'run', flow: 'lost-parcel', caseId: of.id, item, vars: {} }, { caseId: of.id });
  return 'asked';
}

/**
 * Whatever a doctor chooses, somebody of the site has to tell the patient: with nobody there the coordinators hear, and the
 * doctors are asked within a day of somebody's being back.
 */
export function waitForSite(turn: Turn, of: Case, item: string): void {
  turn.notify('coordinators', 'lost-parcel.nobody', 'notice', of.id, item, {});
  lookForSite(turn, of.id, item, 0);
}

function lookForSite(turn: Turn, caseId: string, item: string, told: number): void {
  const at = turn.now + durationOf(turn.world.programme, 'duty-again');
  turn.post(null, { kind: 'look-again', caseId, item, told, parcel: true }, { caseId, at });
}

/** Days for which it is looked whether somebody is back; the reminders of the parcel ask from then on. Line convention. */
const daysLooked = 30;

/** Asks the doctors once somebody of the site is back; a parcel that came, or was asked about, needs no more. */
export function askOnceThere(turn: Turn, what: DueWhat & { readonly kind: 'look-again' }): void {
  const { caseId, item, told } = what;
  const of = turn.caseOf(caseId);
  if (!of || item === null || !onTheWay(of).some((one) => one.id === item)) return;
  if (askAboutParcel(turn, of, item) === 'nobody' && told < daysLooked) lookForSite(turn, caseId, item, told + 1);
}

/** It has come after all: no doctor need say what the patient gets instead. */
export function parcelCame(
  { now, by, questions }: { readonly now: number; readonly by: string; readonly questions: readonly Question[] },
  { id: caseId, ownerId }: Case,
): readonly Act[] {
  return questions
    .filter((one) => one.caseId === caseId && one.about === 'parcel-lost' && one.answeredAt === null)
    .flatMap((one) => [
      ...settleQuestion(one, { now, by, answer: 'came', tell: 'lost-parcel.came-for-doctor' }),
      // Begun anew it finds nothing lost, and ends with its former self.
      { do: 'post', personId: ownerId, what: { kind: 'run', flow: 'lost-parcel', caseId, item: one.item, vars: {} } },
    ]);
}

function noParcel(turn: Turn, interpreter: Interpreter, rest: string): void {
  const { person } = interpreter;
  const { codes, wrong } = codesIn(rest);
  turn.disturbed = true;
  const code = codes[0];
  if (code === undefined) {
    const key = wrong.length > 0 ? 'desk.wrong-code' : 'lost-parcel.which-code';
    turn.say(person, key, { frame: null, caseId: null });
    return;
  }
  const of = caseByCode(turn, person, code);
  const specimen = of ? specimenOf(of, code) : null;
  if (!of || !specimen) {
    refuseCode(turn, person, code);
    return;
  }
  turn.aboutCaseId = of.id;
  const where = { frame: null, caseId: of.id, item: specimen.id };
  if (!onTheWay(of).some((one) => one.id === specimen.id)) {
    turn.say(person, 'lost-parcel.not-on-the-way', where);
    return;
  }
  if (isAsked(turn, of)) {
    turn.say(person, 'lost-parcel.asked-already', where);
    return;
  }
  turn.record(of.id, { type: 'noted', words: turn.world.texts.keywordShown(person.locale, 'NOPARCEL') });
  const isThere = askAboutParcel(turn, of, specimen.id) !== 'nobody';
  if (!isThere) waitForSite(turn, of, specimen.id);
  const key = isThere ? 'lost-parcel.noted' : 'lost-parcel.noted-nobody';
  if (carrier(turn.world, of)?.id !== person.id) turn.say(person, key, where);
}

export const lostParcel: Matter = {
  commands: { NOPARCEL: { roles: ['worker', 'lab', 'coordinator'], run: noParcel } },
  decisions: {
    'parcel-lost': {
      outcomes: ['yes', 'no'],
      decide: (m) => (m.case && onTheWay(m.case).some((one) => one.id === m.frame.item) ? 'yes' : 'no'),
    },
  },
  recorders: {
    'parcel-referred': () => [record(answered('parcel', 'referred'))],
    // All that went in the parcel is lost with it.
    'parcel-over': (m): readonly Act[] => {
      const lost = onTheWay(m.case!);
      const open = m.case!.specimens.filter((one) => one.end === null && !lost.includes(one));
      const isOver = open.length === 0 && m.case!.closed === null;
      return [
        ...lost.map((one) => record({ type: 'specimen-closed', specimen: one.id, end: 'not-usable' })),
        ...(isOver ? [record({ type: 'closed', outcome: 'parcel-lost' })] : []),
      ];
    },
  },
};
