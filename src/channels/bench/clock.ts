import { mkdirSync, readFileSync, renameSync, writeFileSync } from 'node:fs';
import { dirname } from 'node:path';
import { setImmediate } from 'node:timers/promises';
import { addDays, instantOf, localTime, weekdayOf } from '../../conversation/schedule.ts';
import type { Line } from '../../line/line.ts';
import type { Clock } from '../../line/ports.ts';
import type { JumpWatch, Stop } from './jump.ts';

/** The real time and how far it was moved forward. Kept in a file, so that a restart does not go back in time. */
export class BenchClock implements Clock {
  private readonly file: string;
  private aheadMs: number;

  constructor(file: string) {
    this.file = file;
    this.aheadMs = readAhead(file);
  }

  now(): number {
    return Date.now() + this.aheadMs;
  }

  /** Forward only; an instant in the past changes nothing. The file is replaced whole, never half-written. */
  moveTo(at: number): void {
    const more = Math.ceil(at - this.now());
    if (more <= 0) return;
    this.aheadMs += more;
    mkdirSync(dirname(this.file), { recursive: true });
    writeFileSync(`${this.file}.new`, `${JSON.stringify({ aheadMs: this.aheadMs })}\n`);
    renameSync(`${this.file}.new`, this.file);
  }
}

function readAhead(file: string): number {
  try {
    const kept: unknown = (JSON.parse(readFileSync(file, 'utf8')) as { aheadMs?: unknown }).aheadMs;
    return typeof kept === 'number' && kept >= 0 && Number.isFinite(kept) ? kept : 0;
  } catch {
    return 0;
  }
}

/** Hour at which a bench begins: everybody is at work, and no ladder sleeps. Our convention. */
const firstHour = 9;
/** Saturday, as `LocalTime` counts the days of a week. */
const weekend = 6;

/** 09:00 of the next working day, Monday to Friday, in a zone; today's where that is still to come. Epoch ms. */
export function firstMorning(now: number, zone: string): number {
  for (let ahead = 0; ; ahead += 1) {
    const day = addDays(localTime(now, zone), ahead);
    const at = instantOf(day, firstHour, zone);
    if (at >= now && weekdayOf(day) < weekend) return at;
  }
}

/** How far a move came. */
export interface Moved {
  /** False: nothing is due, and the clock stays. */
  readonly moved: boolean;
  /** What it stopped for before its goal; null = nothing. */
  readonly stoppedFor: Stop | null;
}

/**
 * Moves the clock from due instant to due instant, each settled before the next, until `ms` from now, or with null
 * to the next due instant. With `ms` it stops on the way at the first question that nobody could have answered before and
 * that silence would make an alarm of. `seen` is called after every stop on the way; `ended` is asked before each one, so
 * that the line can close in the middle of a long way.
 */
export async function moveForward(
  line: Pick<Line, 'settle'>,
  clock: BenchClock,
  ms: number | null,
  watch: Pick<JumpWatch, 'look'>,
  seen: () => void,
  ended: () => boolean,
): Promise<Moved> {
  let next = await line.settle();
  if (ms === null && next === null) return { moved: false, stoppedFor: null };
  const goal = ms === null ? next! : clock.now() + ms;
  let last: number | null = null;
  while (next !== null && next <= goal && !ended()) {
    // What is still due after it was looked at cannot be handled now, and no smaller step would change that.
    if (next === last) break;
    last = next;
    clock.moveTo(next);
    seen();
    // The database answers without a pause: pages, and a signal to end, must get their turn.
    await setImmediate();
    next = await line.settle();
    const stoppedFor = ms === null ? null : await watch.look();
    if (stoppedFor) return { moved: true, stoppedFor };
  }
  if (ended()) return { moved: true, stoppedFor: null };
  clock.moveTo(goal);
  await line.settle();
  seen();
  return { moved: true, stoppedFor: null };
}
