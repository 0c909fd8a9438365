/** Events that belong to no one person: a question nobody answered climbs, a case that owes something says so. */
import { type AnyDutyRule, type Duty, dutyOf, specimenOwed } from '../case/duty.ts';
import type { Role } from '../case/roles.ts';
import type { TextKey } from '../generated/text-keys.ts';
import { dutyTimes } from './duties.ts';
import type { DueWhat } from './event.ts';
import { askToRelease } from './frozen-question.ts';
import { askOfResult, openResultQuestion } from './matters/filing.ts';
import { askAboutParcel, waitForSite } from './matters/lost-parcel.ts';
import { carrier, isAlarmAbout, ladder, type Receivers, receiversOf, waitsHere } from './people.ts';
import { durationOf } from './programme.ts';
import { isDoneSince, isHeld, promiseMs } from './promise.ts';
import { inDaytime } from './schedule.ts';
import type { Question } from './state.ts';
import type { Turn } from './turn.ts';
import type { Person } from './world.ts';

/** Asks the next doctor. When the ladder is spent, the worker gets a number to call and the alarm goes on. */
export function climbQuestion(turn: Turn, { questionId, rung, not }: DueWhat & { readonly kind: 'climb' }): void {
  const question = turn.questions.find((one) => one.id === questionId);
  // A rung that was reached another way (its doctor left the line) is not climbed twice.
  if (!question || question.answeredAt !== null || rung <= question.rung) return;
  // Somebody has it in hand: the row of the promise comes at its time.
  if (isHeld(question, turn.now)) return;
  if (promiseKept(turn, question)) return;
  const urgency = turn.world.programme.urgencies[question.urgency]!;
  // Nobody is asked about their own alarm.
  const doctors = ladder(turn.world, turn.now).filter(
    (one) => !isAlarmAbout(question.about) || one.id !== question.askedBy,
  );
  const fresh = doctors.filter((one) => !question.askedOf.includes(one.id));
  const next = fresh[0] ?? null;
  const askedOf = next ? [...question.askedOf, next.id] : question.askedOf;
  turn.putQuestion({ ...question, rung, askedOf, promiseUntil: null });
  const caseId = question.caseId;
  if (next) {
    turn.post(next.id, { kind: 'ask-doctor', questionId, rung }, { caseId });
    if (question.promiseUntil !== null) remindHolder(turn, question, next);
  } else {
    for (const one of doctors.filter((each) => each.id !== not))
      turn.post(one.id, { kind: 'ask-doctor', questionId, rung, again: true }, { caseId });
    // Who raised an alarm is beside the patient, whoever carries the case.
    const asker = waitsHere(turn.world, turn.caseOf(caseId), question);
    const { about, urgency: pace, openedAt, askedBy } = question;
    const vars = { q: question.tag, about, urgency: pace, openedAt, askedBy };
    const all = Math.max(1, doctors.length);
    if (asker && rung >= all && question.rung < all) {
      turn.post(
        asker.id,
        {
          kind: 'tell',
          key: spentKey(question, doctors),
          caseId,
          item: question.item,
          vars,
          lane: question.urgency === 'now' ? 'sos' : 'notice',
          questionId,
        },
        { caseId },
      );
    }
    const isFirst = question.rung < all;
    const isAgain = isTimeAgain(turn, question, doctors.length) && speaksForItsCase(turn, question, all);
    if (!turn.caseOf(caseId)?.practice && (isFirst || isAgain)) {
      // The first time somebody may be dying; afterwards the news is old.
      const first = question.urgency === 'now' && question.rung < all;
      turn.notify('coordinators', 'common.nobody-answers', first ? 'sos' : 'notice', caseId, question.item, vars, {
        first,
        questionId,
      });
    }
  }
  const at = turn.now + pauseAfter(turn, question, rung, doctors.length);
  // Whom everybody was asked of is told again by day only, unless somebody is in danger.
  const byDay = urgency.daytime || (next === null && question.urgency !== 'now');
  turn.post(
    null,
    { kind: 'climb', questionId, rung: rung + 1 },
    { caseId, at: byDay ? inDaytime(at, turn.world.programme.zone, turn.world.programme.daytime) : at },
  );
}

/**
 * The pause behind a rung. Once everybody was asked the pauses double, up to half a day: the alarm stays, and does not drown
 * the next one.
 */
function pauseAfter(turn: Turn, question: Question, rung: number, doctors: number): number {
  const { climbMs } = turn.world.programme.urgencies[question.urgency]!;
  const stepMs = climbMs[Math.min(rung, climbMs.length - 1)] ?? 0;
  const longest = Math.max(stepMs, durationOf(turn.world.programme, 'unanswered'));
  return Math.min(longest, stepMs * 2 ** Math.min(Math.max(0, rung - doctors), 20));
}

/** Truly said: where there is no doctor, none is asked again; where the clinic is silent, the patient may be well. */
function spentKey(question: Question, doctors: readonly Person[]): TextKey {
  if (question.about === 'no-aftercare-answer') return 'aftercare.neck-silent-still';
  if (question.urgency !== 'now') return doctors.length > 0 ? 'common.ladder-spent' : 'common.no-doctor';
  return doctors.length > 0 ? 'common.ladder-spent-now' : 'common.no-doctor-now';
}

/** Coordinators read of one matter again after hours, in an alarm with each rung. */
function isTimeAgain(turn: Turn, question: Question, doctors: number): boolean {
  if (question.urgency === 'now') return true;
  return pauseAfter(turn, question, question.rung, doctors) >= durationOf(turn.world.programme, 'coordinator-again');
}

/**
 * Of several open questions about one case that every doctor was asked the newest repeats itself to the coordinators: it has the shortest pauses, and
 * the same words for each of them would drown the next alarm.
 */
function speaksForItsCase(turn: Turn, question: Question, all: number): boolean {
  const { urgencies } = turn.world.programme;
  const pauseOf = (one: Question): number => urgencies[one.urgency]?.climbMs[0] ?? 0;
  const louder = turn.questions.find(
    (one) =>
      one.caseId === question.caseId &&
      one.answeredAt === null &&
      !isHeld(one, turn.now) &&
      one.openedAt > question.openedAt &&
      one.rung >= all &&
      pauseOf(one) <= pauseOf(question),
  );
  return question.caseId === null || louder === undefined;
}

/** True: what was promised is recorded by now, so the question is over. */
function promiseKept(turn: Turn, question: Question): boolean {
  const of = turn.caseOf(question.caseId);
  if (question.promiseUntil === null || !of) return false;
  const since = question.promiseUntil - promiseMs(turn.world.programme, question);
  if (!isDoneSince(of, question, Math.max(since, question.openedAt))) return false;
  turn.putQuestion({ ...question, answeredAt: turn.now, promiseUntil: null });
  return true;
}

/** Whoever had it in hand hears that the next doctor is asked too. */
function remindHolder(turn: Turn, question: Question, next: Person): void {
  const { caseId, item } = question;
  if (question.answeredBy === null || question.answeredBy === next.id) return;
  const vars = { q: question.tag, who: next.name };
  const what = { kind: 'tell', key: 'doctor.promise-over', caseId, item, vars, lane: 'notice' } as const;
  turn.post(question.answeredBy, what, { caseId });
}

/** Who of a role a case's duty is told to; of doctors it is one at a time. */
const receiversAs: Readonly<Record<Exclude<Role, 'doctor'>, Receivers>> = {
  worker: 'owner',
  lab: 'lab',
  coordinator: 'coordinators',
};
/** Who can be told of a duty: its owner and whoever hears of delays; of a parcel that does not arrive its sender too. */
type ToldOfDuty<R> = R extends {
  what: infer W extends string;
  owner: infer O extends string;
  escalation: infer E extends string;
}
  ? W extends 'frozen'
    ? `duty.${W}-${E}`
    : `duty.${W}-${O | E}` | (W extends 'receipt' ? `duty.${W}-worker` : never)
  : never;

/** The text that tells of a duty. A duty that is told to somebody without a text of theirs does not compile. */
function dutyKey(duty: Duty, to: Role): TextKey {
  return `duty.${duty.what}-${to}` as ToldOfDuty<AnyDutyRule>;
}

/** Duties of which the doctors read that the clinic was reminded. */
const saysReminded: ReadonlySet<string> = new Set(['decision', 'readiness']);

/** Reminders of a parcel without a receipt until a doctor is asked. Our convention. */
const lostAfter = 3;

/** Reminds whoever owes the next step of a case; when it stays undone also whoever hears of delays. */
export function remindOf(turn: Turn, caseId: string): void {
  const of = turn.caseOf(caseId);
  if (!of) return;
  const duty = dutyTimes(turn.world.programme, of.siteId, (msOf, dayStart) => dutyOf(of, msOf, dayStart));
  if (!duty) return;
  if (duty.dueAt > turn.now) {
    // Due later than was stored (the programme's times were changed): the store learns the new time from this record.
    turn.record(caseId, { type: 'stale', what: 'duty' });
    return;
  }
  const item = specimenOwed(of, duty.what);
  turn.record(caseId, { type: 'reminded', duty: duty.what, rung: duty.rung + 1 });
  const asked = item === null ? null : openResultQuestion(turn, caseId, item);
  const vars = { what: duty.what, rung: String(duty.rung + 1), q: asked?.tag ?? '' };
  // A worker's text is for nobody else, and it is not said that the clinic was reminded.
  const nobody = duty.owner === 'worker' && carrier(turn.world, of) === null;
  const tell = (to: Role): void => {
    const key = nobody && saysReminded.has(duty.what) ? 'duty.nobody-there' : dutyKey(duty, to);
    if (nobody && to === 'worker') {
      turn.notify('coordinators', 'duty.nobody-there', 'reminder', caseId, item, vars);
      return;
    }
    if (to === 'doctor') {
      // One doctor each time, in turn: what is told to all is told to nobody.
      const doctors = receiversOf(turn.world, of, 'doctors', turn.now);
      const one = doctors[duty.rung % Math.max(1, doctors.length)];
      if (one) turn.post(one.id, { kind: 'tell', key, caseId, item, vars, lane: 'reminder' }, { caseId });
      return;
    }
    turn.notify(receiversAs[to], key, 'reminder', caseId, item, vars);
  };
  if (duty.what === 'frozen') askToRelease(turn, of);
  else if (duty.what === 'acknowledgement' && item !== null && openResultQuestion(turn, caseId, item) === null) {
    askOfResult(turn, of, item);
  } else tell(duty.owner);
  if (duty.what === 'receipt') tell('worker');
  // Asked after for days: whoever can end it decides what the patient gets instead; asked again while nothing was decided.
  if (duty.what === 'receipt' && duty.rung >= lostAfter - 1 && item !== null) {
    const found = askAboutParcel(turn, of, item);
    if (found === 'nobody' && duty.rung === lostAfter - 1) waitForSite(turn, of, item);
  }
  // The coordinators have read it already where it is told to them instead of the clinic.
  if (duty.escalates && !(nobody && duty.escalation === 'coordinator')) tell(duty.escalation);
}
