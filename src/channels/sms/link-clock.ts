/** How far the clock of a network is off, from the times it puts on texts. */

/** Texts that are remembered. */
const kept = 20;
/** Fewer say nothing. */
const least = 5;

/**
 * A text can be late, never early: the smallest difference between our clock and the time of the network, over the last
 * texts, is the offset. Positive: the network's clock is behind ours, or everything comes late.
 */
export class LinkClock {
  private readonly differences: number[] = [];
  private readonly offsetAtMostMs: number;

  constructor(offsetAtMostMs: number) {
    this.offsetAtMostMs = offsetAtMostMs;
  }

  /** Notes a text that came at `now` and that the network took at `networkAt`. */
  heard(now: number, networkAt: number | null): void {
    if (networkAt === null) return;
    this.differences.push(now - networkAt);
    if (this.differences.length > kept) this.differences.shift();
  }

  /** Measured offset in ms; null = too few texts. */
  offsetMs(): number | null {
    return this.differences.length < least ? null : Math.min(...this.differences);
  }

  /** False: times of this network are not to be compared with ours. */
  isTrusted(): boolean {
    const offset = this.offsetMs();
    return offset === null || Math.abs(offset) <= this.offsetAtMostMs;
  }
}
