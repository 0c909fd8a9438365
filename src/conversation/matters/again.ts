/** Another needle for a patient whom the site knows. */
import { answerOf, type Case } from '../../case/case.ts';
import { type Interpreter, topFrame } from '../interpret.ts';
import { idleFrame } from '../state.ts';
import type { Turn } from '../turn.ts';
import { caseByCode, refuseCode } from './codes.ts';
import { resultQuestions, samplesSoFar } from './filing.ts';
import { tagFor } from './findings.ts';

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
  turn.aboutCaseId = before.id;
  endBooked(turn, interpreter, before);
  const caseId = turn.nextId('c');
  const moment = turn.moment({ ...idleFrame, flow: 'new' }, null, person);
  const fields = ['initials', 'sex', 'birthYear', 'ageYears'].map((name) => `patient.${name}`);
  const age = answerOf(before, 'patient.birthYear') ?? answerOf(before, 'patient.ageYears') ?? '';
  turn.record(caseId, {
    type: 'opened',
    tag: tagFor(
      moment,
      String(answerOf(before, 'patient.initials')),
      String(age).slice(-2),
      turn.caseOf(before.id)?.status === 'closed' ? before.id : null,
    ),
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
  interpreter.run('new', { caseId });
}

/** The needle that was booked is here: what waited for that day, or for a doctor's word on it, is over. */
function endBooked(turn: Turn, interpreter: Interpreter, before: Case): void {
  const booked = before.specimens.filter(
    (one) => one.end === null && one.told === 'agrees' && answerOf(before, 'repeat-day', one.id) !== undefined,
  );
  for (const { id } of booked) {
    turn.record(before.id, { type: 'specimen-closed', specimen: id, end: 'repeat-booked' });
    for (const open of turn.questions) {
      const about = resultQuestions.has(open.about) && open.caseId === before.id && open.item === id;
      if (!about || open.answeredAt !== null) continue;
      turn.putQuestion({ ...open, answeredAt: turn.now, answeredBy: interpreter.person.id, answer: 'repeated' });
      const vars = { q: open.tag };
      const what = { kind: 'tell', key: 'doctor.repeated', caseId: before.id, item: id, vars, lane: 'notice' } as const;
      for (const doctor of open.askedOf) turn.post(doctor, what, { caseId: before.id });
    }
  }
  for (const thread of turn.threads) {
    const frame = topFrame(thread);
    const waits = frame?.flow === 'action' && /^repeat-(waits|over|open)$/.test(frame.state);
    if (!frame || !waits || thread.caseId !== before.id) continue;
    turn.cancelTimers(frame.id);
    interpreter.remove(thread.id);
  }
}
