/**
 * Nobody is left waiting: every status of an open case has somebody who owes the next step, an instant by which it is
 * owed, and somebody else who hears of it when that passes. A type, so that a new status does not compile without one.
 */
import { assertNever } from '../clinical/assert-never.ts';
import { isPressing } from '../clinical/cytology/pressing.ts';
import { beforeNeedleStatuses } from './bedside.ts';
import { answerOf, type Case, type CaseStatus, currentResult, type Specimen } from './case.ts';
import type { Role } from './roles.ts';

/** What is owed, by whom, by when, and who hears of it when it is late. Durations are names of the programme's. */
interface Rule<W extends string = string, O extends Role = Role, E extends Role = Role> {
  readonly what: W;
  readonly owner: O;
  /** Time allowed from the start of the status, by the programme's name for it. */
  readonly within: string;
  /** Pause between reminders. */
  readonly again: string;
  readonly escalation: E;
  /** Time from the start of the status before which the escalation hears nothing; absent = from the second reminder on. */
  readonly escalateWithin?: string;
}

export type DutyRule = Rule<DutyWhat>;

export interface Duty extends DutyRule {
  /** From when on it is owed, ms: a day that was agreed has passed. */
  readonly since: number;
  readonly dueAt: number;
  /** Reminders already sent. */
  readonly rung: number;
  /** Whether this reminder goes to the escalation too. */
  readonly escalates: boolean;
}

/** Owner, time and escalation of each status. `closed` alone owes nothing. */
export const dutyRules = {
  findings: rule('findings', 'worker', 'duty-findings', 'duty-again', 'coordinator'),
  decision: rule('decision', 'worker', 'duty-decision', 'duty-again', 'doctor'),
  readiness: rule('readiness', 'worker', 'duty-readiness', 'duty-again', 'doctor'),
  sampling: rule('sampling', 'worker', 'duty-sampling', 'duty-again-soon', 'doctor'),
  labelling: rule('labelling', 'worker', 'duty-labelling', 'duty-again-soon', 'doctor'),
  aftercare: rule('aftercare', 'worker', 'duty-aftercare', 'duty-again-soon', 'doctor'),
  posting: rule('posting', 'worker', 'dispatch', 'duty-again', 'coordinator'),
  posted: rule('receipt', 'lab', 'receipt', 'duty-again', 'coordinator'),
  received: { ...rule('result', 'lab', 'result', 'duty-again', 'coordinator'), escalateWithin: 'result-supervisor' },
  action: rule('action', 'worker', 'duty-action', 'duty-again', 'doctor'),
} satisfies Readonly<Record<Exclude<CaseStatus, 'closed'>, Rule>>;

/**
 * What a case owes besides its status: a frozen one a doctor's look, a referral the hospital, a booked one its doctor, and
 * what lacked for the needle is sent by whoever keeps the stock.
 */
const besides = {
  left: rule('left', 'worker', 'duty-action', 'duty-again', 'coordinator'),
  supplies: rule('supplies', 'coordinator', 'duty-supplies', 'duty-again', 'doctor'),
  frozen: rule('frozen', 'doctor', 'duty-again', 'duty-again', 'coordinator'),
  referral: rule('referral', 'worker', 'duty-action', 'duty-again', 'doctor'),
  acknowledgement: rule('acknowledgement', 'doctor', 'duty-action', 'duty-again', 'coordinator'),
};

/** Every rule that there is, each with its own words: who may be told of what has a text, or it does not compile. */
export type AnyDutyRule = (typeof dutyRules)[keyof typeof dutyRules] | (typeof besides)[keyof typeof besides];

/** What can be owed. */
export type DutyWhat = AnyDutyRule['what'];

function otherDuty(of: Case, open: readonly Specimen[]): DutyRule | null {
  // The watch after the needle goes on, frozen or not: that is the nearest duty.
  if (of.frozen !== null && of.status !== 'aftercare') return besides.frozen;
  if (
    (of.status === 'decision' || of.status === 'findings') &&
    of.notSampled?.why.startsWith('referred') &&
    !wasSeen(of)
  )
    return besides.referral;
  if (of.status === 'posted' && answerOf(of, 'parcel') === 'referred' && !wasSeen(of)) return besides.referral;
  if (isBeforeNeedle(of) && (answerOf(of, 'left') ?? null) !== null) return besides.left;
  if (of.status === 'readiness' && lacksSupplies(of)) return besides.supplies;
  const booked = (one: Specimen): boolean => awaitsDoctor(of, one);
  if (of.status === 'action' && open.length > 0 && open.every(booked)) return besides.acknowledgement;
  return null;
}

/** Before anything of a needle: nothing hurts if it waits for a day that was agreed. */
function isBeforeNeedle(of: Case): boolean {
  return beforeNeedleStatuses.has(of.status);
}

/** The start of the day after the one that the patient comes again, or 0. */
function dayIn(of: Case, dayStart: (day: string) => number): number {
  const day = answerOf(of, 'sampling-day');
  return typeof day === 'string' ? dayStart(day) : 0;
}

/**
 * The day that was agreed with a patient before the needle, for it or for the referral, the later one, as `2030-03-06`. Null where none
 * is, or where the patient came before it.
 */
export function agreedDay(of: Case): string | null {
  if (!isBeforeNeedle(of)) return null;
  const days = (['sampling-day', 'referral-day'] as const).flatMap((field) => {
    const isAgreed = of.status !== 'readiness' || (of.answeredAt[field] ?? 0) >= of.statusAt;
    return isAgreed ? (answerOf(of, field) ?? []) : [];
  });
  return days.sort().at(-1) ?? null;
}

/** True: the needle was stopped for want of something, and nobody has said since that it is there. */
export function lacksSupplies(of: Case): boolean {
  return (answerOf(of, 'lacking') ?? []).length > 0;
}

/** True: the patient was seen where this referral sent them; an answer about an earlier one does not count. */
function wasSeen(of: Case): boolean {
  const { 'referral-seen': seen = 0, 'referral-day': day = 0 } = of.answeredAt;
  return answerOf(of, 'referral-seen') === 'seen' && seen > day;
}

/** Answers of a doctor that promise something and decide nothing. */
const undecided: ReadonlySet<string> = new Set(['call-me', 'words']);

function isDecided({ acknowledgement }: Specimen): boolean {
  return acknowledgement !== null && !undecided.has(acknowledgement);
}

/** True: the clinic has said that nothing is left of the cyst, and nobody has asked it to look again since. */
export function isLumpGone(of: Case, one: Specimen): boolean {
  return one.told === 'agrees' && answerOf(of, 'repeat', one.id) === 'nothing-left';
}

/**
 * True: the patient was seen elsewhere and no doctor has read the result, or the clinic has booked a new needle, or found
 * nothing left to needle, and no doctor has decided on that yet; a phone call decides nothing.
 */
export function awaitsDoctor(of: Case, one: Specimen): boolean {
  if (one.end !== null || one.told !== 'agrees') return false;
  if (one.seen === true) return one.acknowledgedAt === null;
  // A needle that a doctor wanted before is no word on a lump that is gone.
  if (isLumpGone(of, one)) return !isDecided(one) || one.acknowledgement === 'repeat';
  return answerOf(of, 'repeat-day', one.id) !== undefined && !isDecided(one);
}

function rule<const W extends string, const O extends Role, const E extends Role>(
  what: W,
  owner: O,
  within: string,
  again: string,
  escalation: E,
): Rule<W, O, E> {
  return { what, owner, within, again, escalation };
}

/** A Thy4 or Thy5 (Bethesda V/VI, TIR4/5), and what is as grave, is never late by days. */
function pressing(of: Specimen): boolean {
  const filed = currentResult(of);
  return of.end === null && filed !== null && isPressing(filed.result);
}

/** Reminders of one thing before they come rarely: whoever can end it was told with the second one. Our convention. */
const dailyReminders = 3;

/**
 * What an open case owes now. `msOf` gives a named duration in ms. Null only for a closed case.
 * A case with an appointment in the future owes nothing before the day after it.
 */
export function dutyOf(of: Case, msOf: (name: string) => number, dayStart: (day: string) => number): Duty | null {
  if (of.status === 'closed') return null;
  const open = of.specimens.filter((one) => one.end === null);
  // One lump's pressing result does not wait until the other one's has come.
  const waitsForOther = of.status === 'posted' || of.status === 'received' ? open.find(pressing) : undefined;
  const found = waitsForOther ? dutyRules.action : (otherDuty(of, open) ?? dutyRules[of.status]);
  const within = found.what === 'action' && open.some(pressing) ? 'duty-action-pressing' : found.within;
  const urgent = found.what === 'referral' && of.notSampled?.why === 'referred-urgently';
  let from = of.status === 'findings' || of.status === 'decision' ? of.changedAt : of.statusAt;
  if (waitsForOther) from = currentResult(waitsForOther)?.at ?? from;
  if (found.what === 'action') {
    const days = open.map((one) => (one.appointedOn && one.seen === null ? dayStart(one.appointedOn) : 0));
    // The clinic has its time from the doctor's decision on.
    const decisions = open.map((one) => (isDecided(one) ? (one.acknowledgedAt ?? 0) : 0));
    from = Math.max(from, ...days, ...decisions);
  }
  if (found.what === 'referral') {
    const said = ['referral-day', 'referral-seen', 'referral-again'].map((field) => of.answeredAt[field] ?? 0);
    from = Math.max(of.statusAt, ...said);
  }
  // A day was agreed for the needle or the referral: nothing is owed before it has passed. A patient who came before it has
  // no day any more, and what lacks is sent before it.
  const agreed = agreedDay(of);
  if (agreed !== null) from = Math.max(from, dayStart(agreed));
  if (found.what === 'supplies') from = of.answeredAt.lacking ?? from;
  if (of.status === 'findings' && of.reminders) from = Math.max(dayIn(of, dayStart), Math.min(from, of.reminders.at));
  // The clinic could not go on while the case was frozen.
  if (found.owner === 'worker') from = Math.max(from, of.releasedAt ?? 0);
  const rung = of.reminders?.duty === found.what ? of.reminders.rung : 0;
  const allowed = from + msOf(urgent ? 'duty-action-pressing' : within);
  const daysMatter = urgent || within === 'duty-action-pressing' || found.what === 'frozen';
  const last = of.reminders?.at ?? from;
  const isHeard = !found.escalateWithin || last >= from + msOf(found.escalateWithin);
  const isRare = rung >= dailyReminders && isHeard && found.again === 'duty-again' && !daysMatter;
  // While the patient is there every hour, then the pauses double up to a day: still owed, still climbing.
  const slower =
    found.again === 'duty-again-soon' && rung > dailyReminders ? 2 ** Math.min(rung - dailyReminders, 10) : 1;
  const pause = isRare ? msOf('duty-rare') : Math.min(msOf(found.again) * slower, msOf('duty-again'));
  const dueAt = rung === 0 ? allowed : Math.max(last + pause, allowed);
  const escalates = rung >= 1 && (!found.escalateWithin || dueAt >= from + msOf(found.escalateWithin));
  return { ...found, within, since: from, dueAt, rung, escalates };
}

/** The specimen that a duty is about: the first open one that lacks what is owed; null before there is any. */
export function specimenOwed(of: Case, what: DutyWhat): string | null {
  const open = of.specimens.filter((one) => one.end === null);
  const lacks = (one: Specimen): boolean => {
    switch (what) {
      case 'readiness':
        return !one.codeChecked;
      case 'sampling':
        return one.fixedAt === null;
      case 'labelling':
        return one.labelledAt === null;
      case 'posting':
        return one.postedAt === null;
      case 'receipt':
        return one.receivedAt === null && one.results.length === 0 && one.rejected === null;
      case 'result':
        return one.results.length === 0 && one.rejected === null;
      case 'action':
        return one.results.length > 0 || one.rejected !== null;
      case 'findings':
      case 'decision':
      case 'aftercare':
      case 'frozen':
      case 'referral':
      case 'acknowledgement':
      case 'supplies':
      case 'left':
        return true;
      default:
        return assertNever(what);
    }
  };
  const owed = open.filter(lacks);
  return (owed.find(pressing) ?? owed[0] ?? open[0])?.id ?? null;
}
