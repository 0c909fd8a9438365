/** What the line does by itself about an open case if nobody does anything: pure, from what stands in its due rows. */
import type { Case } from '../../../case/case.ts';
import { agreedDay, type Duty } from '../../../case/duty.ts';
import { assertNever } from '../../../clinical/assert-never.ts';
import type { Due } from '../../../conversation/event.ts';
import { firstAskedAt } from '../../../conversation/first-asked.ts';
import { isAlarmAbout, personById } from '../../../conversation/people.ts';
import { isHeld } from '../../../conversation/promise.ts';
import type { Question } from '../../../conversation/state.ts';
import type { Person } from '../../../conversation/world.ts';
import { nextOnLadder, type Place, toldAs } from './people-of.ts';

/** A case with what waits for it: open questions to doctors, and the rows that are due later. */
export interface Matter {
  readonly of: Case;
  readonly questions: readonly Question[];
  readonly due: readonly Due[];
}

/** `at`: the instant at which the line acts, ms. `who`: whose turn it is until then; empty = nobody of that role is there. */
export type Forecast = { readonly at: number; readonly who: readonly Person[] } & (
  | {
      /** A question climbs: `next` is asked then, or, where everybody was, all doctors are told again. */
      readonly kind: 'climbs';
      readonly question: Question;
      readonly next: Person | null;
      /** A doctor has it in hand until then. */
      readonly held: boolean;
      /** When the first doctor hears of it, where that is still to come; null = somebody was asked. */
      readonly askedAt: number | null;
    }
  /** The neck was asked about: asked again then, and the coordinators hear; at `alarmAt` doctors do. */
  | { readonly kind: 'neck'; readonly alarmAt: number }
  /** Asked twice about the neck: then doctors hear. */
  | { readonly kind: 'neck-alarm' }
  /** The line writes by itself: `again` = it has asked something, and nothing came. */
  | { readonly kind: 'writes'; readonly again: boolean }
  /** A result that the laboratory did not confirm counts no more, and the coordinators hear. */
  | { readonly kind: 'lapses' }
  /** Whoever owes the next step is reminded. */
  | { readonly kind: 'reminds'; readonly duty: Duty }
);

/** Timers by name: `planned` lead on as it was planned, whatever anybody says; of those that only look nobody hears. */
const leads: Readonly<Record<string, 'planned' | 'unheard'>> = {
  ...{ done: 'planned', over: 'planned', day: 'planned' },
  look: 'unheard',
};

/** The next of all that would happen. What is about danger goes before what comes sooner; then the soonest. */
export function forecastOf(matter: Matter, duty: Duty, place: Place, now: number): Forecast {
  const all = [
    reminderOf(matter.of, duty, place),
    ...matter.questions.flatMap((one) => climbOf(matter, one, duty, place, now) ?? []),
    ...timersOf(matter, duty, place),
  ];
  return all.reduce((first, one) => {
    const nearer = pressure(matter.of, one) - pressure(matter.of, first) || one.at - first.at;
    return nearer < 0 ? one : first;
  });
}

/** 0 = somebody may be in danger, 1 = the patient sits there and waits for a doctor, 2 = the rest. */
function pressure(of: Case, one: Forecast): 0 | 1 | 2 {
  switch (one.kind) {
    case 'climbs':
      return one.question.urgency === 'now' ? 0 : one.question.urgency === 'waiting' ? 1 : 2;
    case 'neck':
    case 'neck-alarm':
      return 0;
    case 'writes':
      return of.sos === null ? 2 : 0;
    case 'lapses':
    case 'reminds':
      return 2;
    default:
      return assertNever(one);
  }
}

/** When an open question climbs, and to whom. Null: no row says that it does. */
function climbOf({ of, due }: Matter, question: Question, duty: Duty, place: Place, now: number): Forecast | null {
  if (question.answeredAt !== null) return null;
  const rows = due.filter(
    ({ what }) => what.kind === 'climb' && what.questionId === question.id && what.rung > question.rung,
  );
  const held = isHeld(question, now);
  const at = held ? question.promiseUntil : (rows.map((row) => row.dueAt).sort((a, b) => a - b)[0] ?? null);
  if (at === null) return null;
  const next = nextOnLadder(place, { ...question, isAlarm: isAlarmAbout(question.about) }, at);
  const asked = personById(place, held ? question.answeredBy : (question.askedOf.at(-1) ?? null));
  const firstAt = asked === null ? at : firstAskedAt(place.programme, question);
  return {
    kind: 'climbs',
    at,
    // Nobody was asked yet: until then it is with whoever owes the next step.
    who: asked === null ? toldAs(place, of, duty.owner, now, duty.rung) : [asked],
    question,
    next,
    held,
    askedAt: question.rung === 0 && firstAt > now ? firstAt : null,
  };
}

/** Timers of the conversations about the case, with whoever owes its next step, and in an alarm with anybody. */
function timersOf({ of, due }: Matter, duty: Duty, place: Place): readonly Forecast[] {
  const owing = toldAs(place, of, duty.owner, duty.dueAt, duty.rung).map((one) => one.id);
  const timers = due.filter(({ what }) => what.kind === 'timer');
  const alarm = timers.find((one) => one.name === 'alarm');
  return timers.flatMap((one): readonly Forecast[] => {
    const person = personById(place, one.personId);
    const common = { at: one.dueAt, who: person ? [person] : [] };
    if (of.status === 'aftercare' && alarm !== undefined && one.frameId === alarm.frameId) {
      const isAskedAgain = timers.some((each) => each.frameId === alarm.frameId && each.name === 'silent');
      if (one.name === 'silent') return [{ kind: 'neck', ...common, alarmAt: alarm.dueAt }];
      if (one === alarm) return isAskedAgain ? [] : [{ kind: 'neck-alarm', ...common }];
    }
    if (leads[one.name] === 'unheard' || (of.sos === null && !owing.includes(one.personId ?? ''))) return [];
    if (leads[one.name] === 'planned' && !isPlannedStill(of, one, duty)) return [];
    if (one.name === 'lapse') return [{ kind: 'lapses', ...common }];
    // Between two checks of an alarm nothing is asked.
    const isPlanned = leads[one.name] === 'planned' || (of.sos !== null && one.name === 'again');
    return [{ kind: 'writes', ...common, again: !isPlanned }];
  });
}

/** False: the patient came before the day that was agreed, or the timer only ends the time to take an answer back. */
function isPlannedStill(of: Case, { name, dueAt }: Due, duty: Duty): boolean {
  if (of.status === 'aftercare' || of.sos !== null) return true;
  if (name === 'over') return dueAt === duty.since;
  return name !== 'day' || of.status === 'action' || agreedDay(of) !== null;
}

function reminderOf(of: Case, duty: Duty, place: Place): Forecast {
  return { kind: 'reminds', at: duty.dueAt, who: toldAs(place, of, duty.owner, duty.dueAt, duty.rung), duty };
}
