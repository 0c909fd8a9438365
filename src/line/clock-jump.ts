import type { Clock, Steady } from './ports.ts';

/** The clock was set when it parts from the steady one by more, ms. Our convention. */
const jumpMs = 5_000;

/** Notices that the clock was set, by a hand or by the network: instants that were stored before mean something else then. */
export class ClockJump {
  private readonly clock: Clock;
  private readonly steady: Steady;
  private offset: number;

  constructor(clock: Clock, steady: Steady) {
    this.clock = clock;
    this.steady = steady;
    this.offset = clock.now() - steady();
  }

  /** True once for each jump, also for one of many small steps. */
  happened(): boolean {
    const offset = this.clock.now() - this.steady();
    if (Math.abs(offset - this.offset) <= jumpMs) return false;
    this.offset = offset;
    return true;
  }
}
