/** Another needle for a patient whom the site knows. */
import { answerOf } from '../../case/case.ts';
import type { Interpreter } from '../interpret.ts';
import { idleFrame } from '../state.ts';
import type { Turn } from '../turn.ts';
import { caseByCode, refuseCode } from './codes.ts';
import { samplesSoFar } from './filing.ts';
import { tagFor } from './findings.ts';
import { lastAlarmAt } from './hindrances.ts';

/**
 * `NEW 48291354`: the patient of an earlier case comes for another needle. Who it is comes along, and what the earlier
 * samples gave, so that a second unreadable one is known as such; everything else is asked anew.
 */
export function needleAgain(turn: Turn, interpreter: Interpreter, code: string | null): void {
  const person = interpreter.person;
  const before = code === null ? null : caseByCode(turn, person, code);
  if (code === null || !before || before.siteId !== person.siteId) {
    if (code === null) turn.say(person, 'desk.wrong-code', { frame: null, caseId: null });
    else refuseCode(turn, person, code);
    turn.disturbed = true;
    return;
  }
  const caseId = turn.nextId('c');
  const moment = turn.moment({ ...idleFrame, flow: 'new' }, null, person);
  const fields = ['initials', 'sex', 'birthYear', 'ageYears'].map((name) => `patient.${name}`);
  const age = answerOf(before, 'patient.birthYear') ?? answerOf(before, 'patient.ageYears') ?? '';
  turn.record(caseId, {
    type: 'opened',
    tag: tagFor(moment, String(answerOf(before, 'patient.initials')), String(age).slice(-2), null),
    siteId: person.siteId,
    ownerId: person.id,
    practice: before.practice,
    earlierCaseId: before.id,
  });
  for (const field of fields) {
    const value = answerOf(before, field);
    if (value !== undefined && value !== null) turn.record(caseId, { type: 'answered', field, item: null, value });
  }
  const earlier = samplesSoFar(before).map(({ side, canonical }) => ({ side, canonical }));
  turn.record(caseId, { type: 'answered', field: 'earlier', item: null, value: earlier });
  // An alarm of this day goes with the patient, not with the case.
  const alarm = lastAlarmAt(before, turn.now);
  if (alarm !== null) turn.record(caseId, { type: 'answered', field: 'alarm-before', item: null, value: alarm });
  interpreter.run('new', { caseId });
}
