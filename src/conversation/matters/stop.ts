/**
 * STOP: obeyed at once with one last text, unless it would silence the last one who could help, or whoever has a patient in
 * hand. A number is a claim, so these are asked back for digits that only the real phone reads.
 */
import { needleStatuses } from '../../case/bedside.ts';
import { countWrongDigits, secretWidth } from '../guesses.ts';
import { type Interpreter, topFrame } from '../interpret.ts';
import { lastOf } from '../last-one.ts';
import { openAlarms } from '../open-alarm.ts';
import { receiversOf } from '../people.ts';
import { asciiWords } from '../plain-words.ts';
import { durationOf } from '../programme.ts';
import { passCases, passQuestions } from '../standing.ts';
import { idleFrame, type Thread } from '../state.ts';
import { alarmThread } from '../stopped.ts';
import { traitsOf } from '../traits.ts';
import type { Turn } from '../turn.ts';
import type { Person, Role } from '../world.ts';
import { leaveAlarm } from './raise-alarm.ts';
import { lapseReadBacks } from './unconfirmed.ts';

/** The word STOP alone. */
export function stop(turn: Turn, interpreter: Interpreter): void {
  const { person } = interpreter;
  if (patientInHand(turn, person) || lastOf(turn.world, person) !== null) askBack(turn, person);
  else leave(turn, interpreter);
}

/** `YES 4718` after STOP. False: this phone was not asked, or the word may be about something else. */
export function confirmsStop(turn: Turn, interpreter: Interpreter, text: string): boolean {
  const { person } = interpreter;
  const { leaving } = turn.state;
  const [first = '', digits = '', ...more] = asciiWords(text);
  const isYes = turn.world.texts.keyword(person.locale, first) === 'YES';
  // A laboratory's YES has the year of the slide behind its digits.
  if (!leaving || !isYes || !/^\d{4,}$/.test(digits) || more.length > 0) return false;
  const isOld = turn.now - leaving.askedAt > durationOf(turn.world.programme, 'roster-answer');
  if (digits === leaving.digits && !isOld) {
    leave(turn, interpreter);
    return true;
  }
  if (!isOld) {
    if (countWrongDigits(turn, person, 'secret')) turn.state = { ...turn.state, leaving: drawn(turn) };
    if (turn.threads.some((one) => traitsOf(turn.world.flows, topFrame(one)).confirms === 'yes')) return false;
  }
  turn.say(person, 'people.stop-wrong', { frame: null, caseId: null });
  stop(turn, interpreter);
  return true;
}

/** A needle in or just out, the watch after it, or an open alarm. */
function patientInHand(turn: Turn, person: Person): Thread | null {
  const alarm = openAlarms(turn).at(-1) ?? alarmThread(turn);
  if (alarm) return alarm;
  const inHand = turn.threads.filter((one) => {
    const of = turn.caseOf(one.caseId);
    return (
      of !== null && of.ownerId === person.id && !of.practice && of.closed === null && needleStatuses.has(of.status)
    );
  });
  return inHand.at(-1) ?? null;
}

function drawn(turn: Turn): NonNullable<Turn['state']['leaving']> {
  return { digits: turn.draw.digits(secretWidth(turn)), askedAt: turn.now };
}

/** Says once more what is asked while the same digits hold. */
function askBack(turn: Turn, person: Person): void {
  const before = turn.state.leaving;
  const holds = before && turn.now - before.askedAt <= durationOf(turn.world.programme, 'roster-answer');
  const leaving = holds ? { ...before, askedAt: turn.now } : drawn(turn);
  turn.state = { ...turn.state, leaving };
  const inHand = patientInHand(turn, person);
  const role = lastOf(turn.world, person);
  const vars = { digits: leaving.digits, role: role === null ? '' : roleWord(turn, person, role) };
  const key = inHand ? 'people.stop-patient' : 'people.stop-last';
  turn.say(person, key, { frame: null, caseId: inHand?.caseId ?? null, vars, ...(inHand ? { lane: 'sos' } : {}) });
  turn.disturbed = true;
}

function roleWord(turn: Turn, person: Person, role: Role): string {
  return turn.world.texts.render(person.locale, `staff.role-${role}`, () => '');
}

/** One last text; what the person owed moves on at once. Of the last of a role the doctors and coordinators hear at once. */
function leave(turn: Turn, interpreter: Interpreter): void {
  const { person } = interpreter;
  const role = lastOf(turn.world, person);
  const { leaving: _, ...state } = turn.state;
  turn.state = state;
  turn.say(person, 'people.stopped', { frame: null, caseId: null });
  const left: Person = { ...person, state: 'stopped' };
  turn.changePeople({ kind: 'put-person', person: left });
  passQuestions(turn, person);
  const passed = passCases(turn, interpreter, {});
  leaveAlarm(turn, left);
  lapseReadBacks(turn, interpreter);
  const vars = {
    who: person.name,
    count: passed ? passed.to.name : turn.render(person, 'people.nobody', idleFrame, null),
  };
  turn.notify('coordinators', 'people.stopped-for-coordinator', 'notice', null, null, vars);
  if (role !== null) tellOfLast(turn, person, role);
}

/** Nobody stands in: doctors and coordinators hear it before all that can wait. */
function tellOfLast(turn: Turn, person: Person, role: Role): void {
  const all = (['doctors', 'coordinators'] as const).flatMap((to) => receiversOf(turn.world, null, to, turn.now));
  for (const one of new Set(all)) {
    if (one.id === person.id) continue;
    const vars = { who: person.name, role: roleWord(turn, one, role) };
    const key = 'people.stopped-last';
    turn.post(one.id, { kind: 'tell', key, caseId: null, item: null, vars, lane: 'sos' });
  }
}
