/** Alarms as frames: their lane, and the digits that end one or hand it over. */
import type { Json } from '../case/events.ts';
import type { Lane } from './effect.ts';
import type { Draw } from './random.ts';
import type { Frame } from './state.ts';
import type { Turn } from './turn.ts';

/** Flows whose texts are first aid: they go before all others. `cry`: words that become an alarm without an answer. */
export const alarmFlows: ReadonlySet<string> = new Set(['sos', 'cry']);

/** States of a decision in which the patient is to be on the way to a hospital. */
const emergencyStates: ReadonlySet<string> = new Set([
  'emergency-now',
  'emergency-tell',
  'emergency',
  'emergency-told',
  'emergency-waits',
]);

/** Digits that end or hand over an alarm. Design: four, so that a guess is one in ten thousand. */
const leastDigits = 4;

/** True: this frame is an alarm that its own words answer. */
export function isOpenAlarm(frame: Frame | null): boolean {
  if (frame?.flow === 'sos') return true;
  return frame?.flow === 'decision' && emergencyStates.has(frame.state);
}

/** Lane of what a frame says by itself. */
export function laneOf(frame: Frame): Lane {
  return alarmFlows.has(frame.flow) || isOpenAlarm(frame) ? 'sos' : 'reply';
}

/** Digits for GOING and WELL, different ones; those of this width that the frame has already stay. */
export function alarmDigits(draw: Draw, vars: Frame['vars'], width = leastDigits): Readonly<Record<string, Json>> {
  const made: Record<string, Json> = {};
  const wanted = Math.max(leastDigits, width);
  for (const name of ['going', 'well']) {
    let digits = digitsOf(vars, name);
    while (digits.length < wanted || Object.values(made).includes(digits)) digits = draw.digits(wanted);
    made[name] = digits;
  }
  return made;
}

/** The frame with its digits. */
export function withAlarmDigits(turn: Turn, frame: Frame): Frame {
  return { ...frame, vars: { ...frame.vars, ...alarmDigits(turn.draw, frame.vars) } };
}

/** Digits of an answer as this alarm's texts show them; '' = never shown. */
export function digitsOf(vars: Frame['vars'], answer: string): string {
  const value = vars[answer];
  return typeof value === 'string' && /^\d+$/.test(value) ? value : '';
}
