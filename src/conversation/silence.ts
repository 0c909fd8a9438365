/**
 * A question that repeats itself by day: after three without an answer the coordinators hear of it, and from then on it
 * comes once a week. Never so where days matter: an urgent referral, a result that presses. Our convention.
 */
import type { Json } from '../case/events.ts';
import type { FlowState, FlowTimer } from './flow.ts';
import { isFrozen } from './frozen.ts';
import { isPressingResult } from './matters/result-kind.ts';
import type { Frame, Thread } from './state.ts';
import type { Turn } from './turn.ts';

/** Repeats that nobody answered before somebody else hears. Our convention. */
const mostRepeats = 3;

/** True: this timer puts the open question of its state again. */
function repeats(state: FlowState, timer: FlowTimer | undefined): boolean {
  return timer?.daytime === true && timer.after !== null && state.ask !== null;
}

/** True: this event is the reminder of a question, which nobody needs while the case is frozen. */
export function isReminder({ event }: Turn, state: FlowState): boolean {
  if (event.kind !== 'due' || event.due.what.kind !== 'timer') return false;
  const { name } = event.due.what;
  return repeats(
    state,
    state.timers.find((one) => one.name === name),
  );
}

function daysMatter(turn: Turn, caseId: string | null): boolean {
  const of = turn.caseOf(caseId);
  if (!of) return true;
  if (of.notSampled?.why === 'referred-urgently' || of.decided?.decision === 'refer-urgent') return true;
  return of.specimens.some((one) => one.end === null && one.results.length > 0 && isPressingResult(of, one.id));
}

function timesOf(frame: Frame, state: FlowState): number {
  const { silentAt, silentTimes } = frame.vars;
  return silentAt === state.name && typeof silentTimes === 'number' ? silentTimes : 0;
}

/** The name of the pause before this timer: the flow's own, or the rare one once nobody has answered for long. */
export function pauseOf(turn: Turn, caseId: string | null, frame: Frame, state: FlowState, timer: FlowTimer): string {
  const isLong = repeats(state, timer) && timesOf(frame, state) >= mostRepeats;
  return isLong && !daysMatter(turn, caseId) ? 'duty-rare' : timer.after!;
}

/** Counts that a question is put again because nobody answered, and tells the coordinators when it was often enough. */
export function countSilence(turn: Turn, thread: Thread, frame: Frame, state: FlowState, name: string): Frame {
  const timer = state.timers.find((one) => one.name === name);
  if (!repeats(state, timer) || !turn.person?.roles.includes('worker') || isFrozen(turn, thread)) return frame;
  const times = timesOf(frame, state) + 1;
  const of = turn.caseOf(thread.caseId);
  if (times === mostRepeats && of && !of.practice && !daysMatter(turn, of.id)) {
    turn.notify('coordinators', 'duty.unanswered-coordinator', 'reminder', of.id, frame.item, {
      who: turn.person.name,
    });
  }
  return { ...frame, vars: { ...frame.vars, silentAt: state.name, silentTimes: times } };
}

/** Somebody answered: counted anew. */
export function heardAgain(vars: Frame['vars']): Frame['vars'] {
  if (!('silentAt' in vars)) return vars;
  const { silentAt: _at, silentTimes: _times, ...rest } = vars as Readonly<Record<string, Json>>;
  return rest;
}
