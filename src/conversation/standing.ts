/** Somebody leaves the line or comes back: what they owed moves on at once, and nothing waits for a phone that is gone. */

import type { Case } from '../case/case.ts';
import { formatCode } from '../case/code.ts';
import type { TextKey } from '../generated/text-keys.ts';
import { lettingGo, type RosterAct } from './authority.ts';
import type { AwayWhy, DueWhat } from './event.ts';
import { frozenFor, frozenQuestion } from './frozen-question.ts';
import { type Interpreter, stateOf } from './interpret.ts';
import { beginWhatWaits } from './left-behind.ts';
import { sosQuestion } from './matters/alarm-told.ts';
import { leaveAlarm } from './matters/raise-alarm.ts';
import { lapseReadBacks } from './matters/unconfirmed.ts';
import { release } from './pass-on.ts';
import { personById, reachable, withRole } from './people.ts';
import { flowThatCarries } from './resume.ts';
import { idleFrame, type Question } from './state.ts';
import { timersOf } from './stopped.ts';
import type { Turn } from './turn.ts';
import { sayWhatWaits } from './what-waits.ts';
import type { Person } from './world.ts';

/** Moves this person's threads of a case to somebody else, with their timers; who goes on with an alarm waits for its answer. */
export function handOver(turn: Turn, interpreter: Interpreter, caseId: string, to: string, begins = true): void {
  const own = turn.threads.filter((one) => one.caseId === caseId);
  // Nothing to move: whoever carries the case now begins where it stands.
  if (own.length === 0 && begins) turn.post(to, { kind: 'receive', caseId, frames: [] }, { caseId });
  for (const thread of own) {
    for (const frame of thread.frames) turn.cancelTimers(frame.id);
    turn.post(to, { kind: 'receive', caseId, frames: thread.frames }, { caseId });
    interpreter.remove(thread.id);
    if (thread.frames.some((frame) => stateOf(turn, frame)?.quiet)) turn.releaseHeld();
  }
  const isOwnAlarm = ({ about, askedBy }: Question): boolean =>
    about === sosQuestion.about && askedBy === interpreter.person.id;
  for (const question of turn.questions) {
    if (question.caseId !== caseId || question.answeredAt !== null || !isOwnAlarm(question)) continue;
    turn.putQuestion({ ...question, askedBy: to });
  }
}

/** Questions that waited for this person go one rung up at once. */
export function passQuestions(turn: Turn, person: Person): void {
  for (const question of turn.questions) {
    if (question.answeredAt !== null || !question.askedOf.includes(person.id)) continue;
    // Held by somebody else: it waits for them.
    if (question.promiseUntil !== null && question.answeredBy !== person.id) continue;
    release(turn, question, person.id);
  }
}

/** Where the cases of somebody went: cases moved in this step, and those that follow with an event of their own. */
interface Passed {
  readonly to: Person;
  readonly cases: number;
  readonly follow: ReadonlySet<string>;
}

/**
 * Open cases of a worker go to a colleague of the site; null when there is nobody. Only what a worker carries passes to a
 * worker: a laboratory's read-back is nobody else's. What is at the laboratory goes with the rest when a worker is relieved;
 * of one who leaves it is told to whoever is there by then.
 */
export function passCases(
  turn: Turn,
  interpreter: Interpreter,
  { heir = null, notTo = null, relieved = false }: { heir?: Person | null; notTo?: string | null; relieved?: boolean },
): Passed | null {
  const person = interpreter.person;
  const colleagues = person.roles.includes('worker') ? withRole(turn.world, 'worker') : [];
  const to =
    heir ?? colleagues.find((one) => one.siteId === person.siteId && one.id !== person.id && one.id !== notTo) ?? null;
  if (!to) return null;
  const threads = [...new Set(turn.threads.map((one) => one.caseId))];
  const moved = threads.flatMap((id) => turn.caseOf(id) ?? []).filter((of) => of.ownerId === person.id);
  for (const of of moved) giveCase(turn, interpreter, of, to.id);
  // Not loaded with this event: one without a thread, or of more than are loaded at once.
  const follow = turn.world.briefs.filter(
    ({ id, ownerId, status }) =>
      ownerId === person.id &&
      !moved.some((of) => of.id === id) &&
      (relieved || threads.includes(id) || flowThatCarries(turn, status) !== null),
  );
  for (const { id } of follow) turn.post(person.id, { kind: 'hand-over', caseId: id, to: to.id }, { caseId: id });
  return { to, cases: moved.length + follow.length, follow: new Set(follow.map(({ id }) => id)) };
}

/** A case of this person is somebody else's from now on, who hears it. */
function giveCase(turn: Turn, interpreter: Interpreter, of: Case, to: string): void {
  turn.record(of.id, { type: 'taken-over', ownerId: to });
  const vars = { who: interpreter.person.name };
  const what = { kind: 'tell', key: 'people.given', caseId: of.id, item: null, vars, lane: 'notice' } as const;
  turn.post(to, what, { caseId: of.id });
  handOver(turn, interpreter, of.id, to);
}

/** The threads of a case that went to somebody else; the case itself too, where it is this person's still. */
export function handOverCase(turn: Turn, interpreter: Interpreter, what: DueWhat & { kind: 'hand-over' }): void {
  const { caseId, to } = what;
  const of = turn.caseOf(caseId);
  const isOpenHere = of !== null && of.status !== 'closed' && of.ownerId === interpreter.person.id;
  if (isOpenHere) giveCase(turn, interpreter, of, to);
  else handOver(turn, interpreter, caseId, to, what.begins !== false);
}

/**
 * What begins at a colleague because whoever carries the case has left is theirs from then on: the doctor's answer and every
 * reminder go where it is asked, also once another colleague is back.
 */
export function takeWhatIsLeft(turn: Turn, person: Person, caseId: string | null): void {
  const of = turn.caseOf(caseId);
  if (!of || of.status === 'closed' || of.ownerId === person.id) return;
  if (!person.roles.includes('worker') || person.siteId !== of.siteId) return;
  const owner = personById(turn.world, of.ownerId);
  if (owner !== null && reachable(owner)) return;
  turn.record(of.id, { type: 'taken-over', ownerId: person.id });
  // What the owner was still asked about the case, of another lump, comes along.
  if (owner !== null)
    turn.post(owner.id, { kind: 'hand-over', caseId: of.id, to: person.id, begins: false }, { caseId: of.id });
}

/** What a change of the roster means in the conversation of the person that it is about. */
export function changeStanding(turn: Turn, interpreter: Interpreter, what: DueWhat & { kind: 'standing' }): void {
  const person = interpreter.person;
  if (what.now === 'back') {
    comeBack(turn, interpreter);
    return;
  }
  const heir = personById(turn.world, what.heir);
  if (what.now === 'away') passQuestions(turn, person);
  const passed = passCases(turn, interpreter, { heir, notTo: what.notTo ?? null, relieved: what.now === 'relieved' });
  if (what.now === 'away') leaveAlarm(turn, person);
  if (what.now === 'away') lapseReadBacks(turn, interpreter);
  // More open cases than were loaded with this event: the rest follows in the next one.
  const left = turn.threads.some(
    ({ caseId }) => caseId !== null && turn.caseOf(caseId) === null && passed?.follow.has(caseId) !== true,
  );
  if (left && passed && passed.cases > 0) turn.post(person.id, { ...what, since: null });
  const vars = { who: person.name, by: what.by, ...wentTo(turn, person, passed) };
  const key: TextKey = what.now === 'relieved' ? 'staff.relieved' : `staff.away-${what.why}`;
  turn.notify('coordinators', key, 'notice', null, null, vars);
  if (what.now === 'relieved') turn.say(person, 'staff.relieved-you', { frame: null, caseId: null, vars });
  if (what.since !== null) showDoings(turn, person, what.why);
}

function wentTo(turn: Turn, person: Person, passed: Passed | null): Record<string, string> {
  if (!person.roles.includes('worker')) return {};
  if (passed) return { count: String(passed.cases), to: passed.to.name };
  const open = turn.threads.filter((one) => turn.caseOf(one.caseId)?.ownerId === person.id);
  const nobody = turn.render(person, 'people.nobody', idleFrame, null);
  return { count: String(new Set(open.map((one) => one.caseId)).size), to: nobody };
}

/** Cases named in one text to the doctors. */
const mostNamed = 6;

/**
 * What the phone did lately, for the doctors: every case with the weightiest of it. A case that it let go on, or in which
 * it filed, waits for a doctor: nobody knows who held the phone.
 */
function showDoings(turn: Turn, person: Person, why: RosterAct | AwayWhy): void {
  const ids = [...new Set(turn.world.doings.map((one) => one.caseId))];
  const cases = ids.flatMap((id) => turn.caseOf(id) ?? []).filter((of) => !of.practice);
  const weighty = (id: string) => turn.world.doings.filter((one) => one.caseId === id && lettingGo.has(one.type));
  const frozen = cases.filter((of) => of.closed === null && of.sos === null && weighty(of.id).length > 0);
  const lines = cases.map((of) => {
    const codes = of.specimens.map((one) => formatCode(one.code));
    const did = [...new Set(weighty(of.id).map((one) => one.type))];
    const acts = [
      ...(did.length > 0 ? did : ['wrote']),
      ...(of.closed !== null && did.length > 0 ? ['is-closed'] : []),
    ];
    return `${[of.tag, ...codes].join(' ')}=${acts.join(',')}`;
  });
  const rest = lines.length > mostNamed ? ` +${lines.length - mostNamed}` : '';
  const vars = { who: person.name, awayWhy: why, doings: `${lines.slice(0, mostNamed).join(';')}${rest}` };
  const told = frozen.length > 0 ? 'staff.doings-frozen' : 'staff.doings';
  const key = cases.length === 0 ? 'staff.no-doings' : told;
  turn.notify('doctors', key, 'notice', null, null, vars);
  for (const of of frozen) {
    const asked = turn.questions.some(
      (one) => one.caseId === of.id && one.about === frozenQuestion.about && one.answeredAt === null,
    );
    if (of.frozen === null) turn.record(of.id, { type: 'frozen', why: 'phone-lost' });
    if (!asked) turn.openQuestion(frozenFor(of), of.id, null, '', { askedBy: of.ownerId });
  }
}

/** Back on the line: timers run again, what came meanwhile begins, the open question is asked again. */
export function comeBack(turn: Turn, interpreter: Interpreter): void {
  const person = interpreter.person;
  for (const { thread, frame } of timersOf(turn)) interpreter.arm(thread.id, stateOf(turn, frame)!, frame);
  const begins = beginWhatWaits(turn, person);
  turn.say(person, 'common.started', { frame: null, caseId: null });
  const last = turn.threads.at(-1);
  const isAsked = (): boolean => turn.threads.some((one) => one.ask !== null);
  if (last && !isAsked()) interpreter.show(last.id);
  // What begins at once asks itself.
  if (!isAsked() && !begins) sayWhatWaits(turn, interpreter);
  turn.disturbed = true;
}
