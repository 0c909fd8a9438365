/** Which conversations are open alarms: an SOS, and a decision that is an emergency. */
import { isOpenAlarm, isRaised, withAlarmDigits } from './alarm-digits.ts';
import { topFrame } from './interpret.ts';
import type { Thread } from './state.ts';
import type { Turn } from './turn.ts';
import type { Person } from './world.ts';

/** Threads of open alarms, the one to which an answer without a name belongs last. */
export function openAlarms(turn: Turn): readonly Thread[] {
  return turn.threads.filter((one) => isOpenAlarm(turn, topFrame(one)));
}

/**
 * An alarm goes on by today's structure, whatever it began on: its words must be understood. Its states keep their names,
 * and a question that was shown is still answered as it was shown.
 */
export function renewAlarms(turn: Turn): void {
  turn.threads = turn.threads.map((thread) => {
    const frame = topFrame(thread);
    if (!frame || !isOpenAlarm(turn, frame)) return thread;
    const newest = turn.world.flows.newest.get(frame.flow);
    if (!newest || newest.hash === frame.hash || !newest.states.has(frame.state)) return thread;
    const renewed = { ...withAlarmDigits(turn, frame), hash: newest.hash };
    return { ...thread, frames: [...thread.frames.slice(0, -1), renewed] };
  });
}

/** Between two checks of an alarm nothing is asked: says when it is, and what to do if it gets worse. False: there is none. */
export function saysNextCheck(turn: Turn, person: Person): boolean {
  const alarm = turn.threads.find((one) => one.ask === null && isRaised(turn, topFrame(one)));
  if (!alarm) return false;
  turn.say(person, 'sos.next-check', { frame: topFrame(alarm), caseId: alarm.caseId, lane: 'sos' });
  return true;
}
