/** Alarms as frames: their lane, and the digits that end one or hand it over. */
import type { Json } from '../case/events.ts';
import type { Lane } from './effect.ts';
import { secretWidth } from './guesses.ts';
import type { Draw } from './random.ts';
import type { Frame } from './state.ts';
import { traitsOf } from './traits.ts';
import type { Turn } from './turn.ts';

/** True: this frame is an alarm that its own words answer. */
export function isOpenAlarm(turn: Turn, frame: Frame | null): boolean {
  const { alarm } = traitsOf(turn.world.flows, frame);
  return alarm === 'raised' || alarm === 'emergency';
}

/** True: this frame is an alarm with first aid of its own, beside or on top of whatever went on. */
export function isRaised(turn: Turn, frame: Frame | null): boolean {
  return traitsOf(turn.world.flows, frame).alarm === 'raised';
}

/** True: first aid was said here, for an alarm or for words that become one without an answer. */
export function isFirstAid(turn: Turn, frame: Frame | null): boolean {
  return isRaised(turn, frame) || isOffered(turn, frame);
}

/** True: first aid was said for words that become an alarm without an answer. */
export function isOffered(turn: Turn, frame: Frame | null): boolean {
  return traitsOf(turn.world.flows, frame).alarm === 'offered';
}

/** Lane of what a frame says by itself. */
export function laneOf(turn: Turn, frame: Frame): Lane {
  return traitsOf(turn.world.flows, frame).alarm === undefined ? 'reply' : 'sos';
}

/** Digits for GOING and WELL, different ones; those that are as long already stay. */
export function alarmDigits(draw: Draw, vars: Frame['vars'], width: number): Readonly<Record<string, Json>> {
  const made: Record<string, Json> = {};
  for (const name of ['going', 'well']) {
    let digits = digitsOf(vars, name);
    while (digits.length < width || Object.values(made).includes(digits)) digits = draw.digits(width);
    made[name] = digits;
  }
  return made;
}

/** The frame with its digits. */
export function withAlarmDigits(turn: Turn, frame: Frame): Frame {
  return { ...frame, vars: { ...frame.vars, ...alarmDigits(turn.draw, frame.vars, secretWidth(turn)) } };
}

/** Digits of an answer as this alarm's texts show them; '' = never shown. */
export function digitsOf(vars: Frame['vars'], answer: string): string {
  const value = vars[answer];
  return typeof value === 'string' && /^\d+$/.test(value) ? value : '';
}
