/** Alarms of numbers that are not on the line, as a coordinator hears them: the first at once, the next ones collected. */
import { fitsScreen } from '../text/segments.ts';
import { durationOf } from './programme.ts';
import { idleFrame } from './state.ts';
import type { Turn } from './turn.ts';
import type { Person } from './world.ts';

/** Numbers kept for one text; more than that is a flood, of which the count is said. */
const mostKept = 200;

/** Tells of one now, or keeps it for the next text; `from` null: the time for that text has come. */
export function tellUnknownAlarm(turn: Turn, person: Person, from: string | null, answered: boolean): void {
  const { toldAt = 0, waiting = [] } = turn.state.unknownAlarms ?? {};
  const pauseMs = durationOf(turn.world.programme, 'alarm-again');
  // Told in the future: the clock was set, and nothing comes at its time.
  const clockSet = toldAt > turn.now;
  if (from === null || (clockSet && waiting.length > 0)) {
    const numbers = from === null ? waiting : [...waiting, from];
    if (numbers.length === 0) return;
    say(turn, person, numbers, 0);
    turn.state = { ...turn.state, unknownAlarms: { toldAt: turn.now, waiting: [] } };
  } else if ((clockSet || toldAt + pauseMs <= turn.now) && waiting.length === 0) {
    const key = answered ? 'common.stranger-sos' : 'common.stranger-sos-unanswered';
    turn.say(person, key, { frame: null, caseId: null, vars: { from }, lane: 'sos', first: true });
    turn.state = { ...turn.state, unknownAlarms: { toldAt: turn.now, waiting: [] } };
  } else {
    if (waiting.length === 0) {
      const what = { kind: 'unknown-alarm', from: null } as const;
      turn.post(person.id, what, { at: toldAt + pauseMs });
    }
    turn.state = { ...turn.state, unknownAlarms: { toldAt, waiting: [...waiting, from].slice(0, mostKept) } };
    return;
  }
  turn.disturbed = true;
}

/** One screen after the other, each complete alone, until every number was said. */
function say(turn: Turn, person: Person, numbers: readonly string[], from: number): void {
  let to = from + 1;
  while (to < numbers.length && fits(turn, person, numbers, from, to + 1)) to += 1;
  turn.say(person, 'common.strangers-sos', {
    frame: null,
    caseId: null,
    vars: varsOf(numbers, from, to),
    lane: 'sos',
  });
  if (to < numbers.length) say(turn, person, numbers, to);
}

function fits(turn: Turn, person: Person, numbers: readonly string[], from: number, to: number): boolean {
  const frame = { ...idleFrame, vars: varsOf(numbers, from, to) };
  return fitsScreen(turn.render(person, 'common.strangers-sos', frame, null));
}

function varsOf(numbers: readonly string[], from: number, to: number): Record<string, string> {
  return { count: String(numbers.length), numbers: numbers.slice(from, to).join(', ') };
}
