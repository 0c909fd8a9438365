/** When a timer of a flow fires. */
import type { FlowState, FlowTimer } from './flow.ts';
import type { Moment } from './moment.ts';
import { durationOf, siteOf } from './programme.ts';
import { inDaytime } from './schedule.ts';
import { pauseOf } from './silence.ts';
import type { Frame } from './state.ts';
import type { Turn } from './turn.ts';

/** Instant of a timer of this frame's state, ms, as its person sees it; null: it does not fire. */
export function timerInstant(
  turn: Turn,
  moment: Moment,
  frame: Frame,
  state: FlowState,
  timer: FlowTimer,
): number | null {
  const { programme } = turn.world;
  const pause = timer.after ? pauseOf(turn, moment.case?.id ?? null, frame, state, timer) : null;
  let at = pause ? frame.since + durationOf(programme, pause) : null;
  if (timer.at) {
    const instant = turn.registry.instants.get(timer.at);
    if (!instant) throw new Error(`no instant ${timer.at}`);
    at = instant(moment);
  }
  const { zone } = siteOf(programme, moment.person.siteId);
  return at !== null && timer.daytime ? inDaytime(at, zone, programme.daytime) : at;
}
