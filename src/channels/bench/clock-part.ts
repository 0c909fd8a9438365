/** Moves the clock of the bench forward, one move at a time. */
import type { Line } from '../../line/line.ts';
import type { BenchChannel } from './channel.ts';
import { type BenchClock, moveForward } from './clock.ts';
import { JumpWatch } from './jump.ts';
import { type Answer, type Asked, type BenchPart, ok, refused, type Tell } from './part.ts';

/** The clock is not moved further than this at once, ms. */
const moveAtMost = 400 * 86_400_000;

export interface ClockOptions {
  readonly line: Line;
  readonly clock: BenchClock;
  readonly channel: BenchChannel;
  /** Handles what is due, on the line and beside it; gives the next instant of both, ms. */
  readonly settle: () => Promise<number | null>;
  readonly tell: Tell;
}

export class ClockPart implements BenchPart {
  readonly post = { '/clock': (asked: Asked) => this.move(asked) };
  private readonly line: Line;
  private readonly clock: BenchClock;
  private readonly channel: BenchChannel;
  private readonly settle: ClockOptions['settle'];
  private readonly tell: Tell;
  private moving: Promise<unknown> | null = null;
  private ended = false;

  constructor({ line, clock, channel, settle, tell }: ClockOptions) {
    this.settle = settle;
    this.line = line;
    this.clock = clock;
    this.channel = channel;
    this.tell = tell;
  }

  async end(): Promise<void> {
    this.ended = true;
    await this.moving?.catch(() => undefined);
  }

  private async move({ body: { ms, next } }: Asked): Promise<Answer> {
    const isNext = next === true;
    if (!isNext && !(typeof ms === 'number' && ms > 0 && ms <= moveAtMost)) {
      return refused(400, 'How far? Milliseconds forward, at most 400 days.');
    }
    if (this.moving) return refused(409, 'The clock is moving already.');
    const moved = this.moveBy(isNext ? null : Number(ms));
    this.moving = moved;
    try {
      return ok(await moved);
    } finally {
      this.moving = null;
    }
  }

  /** How far it came, what it stopped for, and what reached each phone on the way. */
  private async moveBy(ms: number | null): Promise<unknown> {
    const { line, clock, channel, settle } = this;
    // What is due by now is no matter of the way.
    await settle();
    const watch = await JumpWatch.begin(line, channel);
    const seen = (): void => this.tell('clock', { now: clock.now() });
    try {
      const { moved, stoppedFor } = await moveForward({ settle }, clock, ms, watch, seen, () => this.ended);
      return { moved, now: clock.now(), stoppedFor, came: watch.summary() };
    } finally {
      watch.end();
    }
  }
}
