/** A laboratory's YES or NO to a read-back. */
import { type Case, specimenOf } from '../../case/case.ts';
import { slidesSent } from '../../case/parcel.ts';
import { isUnreadable } from '../../clinical/cytology/action.ts';
import { foldInitials, readConfirmation } from '../answers/confirmation.ts';
import type { DueWhat } from '../event.ts';
import type { Interpreter } from '../interpret.ts';
import { topFrame } from '../interpret.ts';
import { carrier, membersOf, withRole } from '../people.ts';
import { limitOf } from '../programme.ts';
import { idleFrame } from '../state.ts';
import type { Turn } from '../turn.ts';
import { resultConsequences } from './filing.ts';
import { parcelCame } from './lost-parcel.ts';
import { dropAbout, type InLaboratory } from './receipt.ts';
import { contradiction, resultKind } from './result-kind.ts';

/** Ends this person's read-back of a specimen, if one is open. */
export function endReadBack(turn: Turn, interpreter: Interpreter, caseId: string, item: string): void {
  for (const thread of turn.threads) {
    const frame = topFrame(thread);
    if (thread.caseId === caseId && frame?.flow === 'read-back' && frame.item === item) {
      interpreter.take(thread.id, 'read-back.over');
    }
  }
}

/** Specimens whose read-back waits on this phone, the newest last. */
function waiting(turn: Turn): readonly InLaboratory[] {
  return turn.threads.flatMap((thread) => {
    const frame = topFrame(thread);
    const of = frame?.flow === 'read-back' ? turn.caseOf(thread.caseId) : null;
    const specimen = of ? specimenOf(of, frame?.item ?? null) : null;
    return of && specimen?.readBack && specimen.readBack.at === frame?.vars.readBackAt ? [{ of, specimen }] : [];
  });
}

/**
 * `YES 4718 1982`: the line's own number, and what is written on the glass. Right: filed. Wrong: the read-back is void, and
 * after the programme's number of wrong ones the specimen takes no results by text. Returns the specimen whose read-back
 * has lapsed: it needs a fresh one. What cannot be read as a confirmation does not count as wrong.
 */
export function yes(turn: Turn, interpreter: Interpreter, rest: string): InLaboratory | null {
  const person = interpreter.person;
  turn.disturbed = true;
  const open = waiting(turn);
  const newest = open.at(-1);
  if (!newest) return lapsed(turn, interpreter);
  const read = readConfirmation(`YES ${rest}`);
  if (!read.ok || read.value.answer === 'no' || read.value.challenge === null || read.value.second === null) {
    turn.say(person, 'laboratory.needs-quote', { frame: null, caseId: newest.of.id, item: newest.specimen.id });
    return null;
  }
  const { challenge, second } = read.value;
  const meant = open.find((one) => one.specimen.readBack?.challenge === challenge);
  if (meant && meant.specimen.readBack!.lapsesAt < turn.now) return meant;
  const about = meant ?? newest;
  endReadBack(turn, interpreter, about.of.id, about.specimen.id);
  if (meant && second === quoteOf(meant.of)) file(turn, interpreter, about);
  else wrongQuote(turn, interpreter, about);
  return null;
}

/** What the slide says beside the name: the birth year, or the initials where no year is known. */
export function quoteOf(of: Case): string {
  const born = of.answers['patient.birthYear'];
  if (typeof born === 'number') return String(born);
  return foldInitials(String(of.answers['patient.initials'] ?? ''));
}

/** Begins, or begins anew, what a coordinator hears of results that are locked. */
export function askAboutLock(caseId: string, item: string): DueWhat {
  return { kind: 'run', flow: 'locked', caseId, item, vars: {} };
}

function wrongQuote(turn: Turn, { person }: Interpreter, { of, specimen }: InLaboratory): void {
  const where = { frame: null, caseId: of.id, item: specimen.id };
  turn.record(of.id, { type: 'read-back-failed', specimen: specimen.id });
  const tries = specimenOf(turn.caseOf(of.id)!, specimen.id)?.wrongConfirmations ?? 0;
  if (tries < limitOf(turn.world.programme, 'wrong-challenges')) {
    turn.say(person, 'laboratory.void', where);
    return;
  }
  turn.record(of.id, { type: 'results-locked', specimen: specimen.id });
  turn.say(person, 'laboratory.locked', where);
  for (const one of withRole(turn.world, 'coordinator')) {
    turn.post(one.id, askAboutLock(of.id, specimen.id), { caseId: of.id });
  }
}

function file(turn: Turn, interpreter: Interpreter, { of, specimen }: InLaboratory): void {
  const { result } = specimen.readBack!;
  const amends = specimen.results.length > 0 ? specimen.results.length - 1 : null;
  if (specimen.receivedAt === null) {
    turn.record(of.id, { type: 'received', specimen: specimen.id, slides: slidesSent(specimen) });
    const at = { now: turn.now, by: interpreter.person.id, questions: turn.questions };
    turn.carryOut(parcelCame(at, of), { ...idleFrame, item: specimen.id }, of.id);
  }
  // Ended by hand, or as a parcel that was lost: what the glass says is owed again by whoever carried the case.
  if (of.closed !== null) turn.record(of.id, { type: 'reopened', specimen: null });
  turn.record(of.id, { type: 'result-filed', specimen: specimen.id, result, amends, reason: null });
  const clinicOnly =
    amends === null &&
    resultKind(turn.caseOf(of.id)!, specimen.id) === 'benign' &&
    contradiction(turn.caseOf(of.id)!, specimen.id) === 'no';
  resultConsequences(turn, turn.caseOf(of.id)!, specimen.id);
  // Why the glass could not be used is answered with a result of it.
  dropAbout(turn, 'rejected', { of, specimen });
  // What can wait wakes no doctor at night: then it is not said that one was told.
  const told = turn.world.roster.some((one) => one.roles.includes('doctor') && turn.comesAtOnce(one.id));
  const heard = clinicOnly ? 'laboratory.filed-clinic' : told ? 'laboratory.filed' : 'laboratory.filed-by-day';
  const key = of.practice || carrier(turn.world, of) ? heard : 'laboratory.filed-nobody-there';
  turn.say(interpreter.person, key, { frame: null, caseId: of.id, item: specimen.id });
  if (membersOf(interpreter.person).length > 1) interpreter.run('reporter', { caseId: of.id, item: specimen.id });
  if (isUnreadable(result.canonical)) interpreter.run('thy1-reason', { caseId: of.id, item: specimen.id });
}

function lapsed(turn: Turn, interpreter: Interpreter): InLaboratory | null {
  const of = turn.caseOf(turn.state.lastCaseId);
  const specimen = of?.specimens.find((one) => one.lapsed !== null && one.readBack === null && !one.locked);
  if (of && specimen) return { of, specimen };
  const refused = of?.specimens.find((one) => one.rejected !== null && one.end === null);
  if (of && refused) {
    turn.say(interpreter.person, 'laboratory.refused', { frame: null, caseId: of.id, item: refused.id });
    return null;
  }
  turn.say(interpreter.person, 'laboratory.nothing-to-confirm', { frame: null, caseId: null });
  return null;
}

/** `NO`: the newest read-back of this phone is dropped, nothing is filed. */
export function no(turn: Turn, interpreter: Interpreter): void {
  const newest = waiting(turn).at(-1);
  turn.disturbed = true;
  if (!newest) {
    turn.say(interpreter.person, 'laboratory.nothing-to-confirm', { frame: null, caseId: null });
    return;
  }
  const { of, specimen } = newest;
  endReadBack(turn, interpreter, of.id, specimen.id);
  turn.record(of.id, { type: 'read-back-dropped', specimen: specimen.id, why: 'denied' });
  turn.say(interpreter.person, 'laboratory.dropped', { frame: null, caseId: of.id, item: specimen.id });
}
