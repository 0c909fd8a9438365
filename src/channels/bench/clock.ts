import { mkdirSync, readFileSync, renameSync, writeFileSync } from 'node:fs';
import { dirname } from 'node:path';
import { setImmediate } from 'node:timers/promises';
import type { Line } from '../../line/line.ts';
import type { Clock } from '../../line/ports.ts';

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

/**
 * Moves the clock from due instant to due instant, each settled before the next, until `ms` from now, or with null
 * to the next due instant. False: nothing is due, and the clock stays. `seen` is called after every stop on the way;
 * `ended` is asked before each one, so that the line can close in the middle of a long way.
 */
export async function moveForward(
  line: Line,
  clock: BenchClock,
  ms: number | null,
  seen: () => void,
  ended: () => boolean,
): Promise<boolean> {
  let next = await line.settle();
  if (ms === null && next === null) return false;
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
  }
  if (ended()) return true;
  clock.moveTo(goal);
  await line.settle();
  seen();
  return true;
}
