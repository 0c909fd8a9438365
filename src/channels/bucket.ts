/** A bucket that fills up with time; whole thousandths of messages, so that nothing is lost to rounding. */

/** Messages a second in the long run, and what may go at once before that. */
export interface BucketLimit {
  readonly perSecond: number;
  readonly burst: number;
  /** Messages that may go beyond what there was room for: those after them wait for it. */
  readonly owedAtMost: number;
}

/** One message, in thousandths. */
const message = 1000;

export class Bucket {
  private readonly limit: BucketLimit;
  private thousandths: number;
  private at: number;

  /** Full at `now`, ms of whatever clock; the same one in every call. */
  constructor(limit: BucketLimit, now: number) {
    this.limit = limit;
    this.thousandths = limit.burst * message;
    this.at = now;
  }

  /** Milliseconds until there is room for a whole message; 0 = now. */
  waitMs(now: number): number {
    this.fill(now);
    return Math.max(0, Math.ceil((message - this.thousandths) / this.limit.perSecond));
  }

  /** Whole messages that there is room for now. */
  free(now: number): number {
    this.fill(now);
    return Math.max(0, Math.floor(this.thousandths / message));
  }

  /** Takes the room of so many messages, whether there was any or not. */
  spend(messages: number, now: number): void {
    this.fill(now);
    this.thousandths = Math.max(-this.limit.owedAtMost * message, this.thousandths - messages * message);
  }

  /** True when nothing of it is used. */
  isFull(now: number): boolean {
    this.fill(now);
    return this.thousandths >= this.limit.burst * message;
  }

  /** A clock that goes back adds nothing. */
  private fill(now: number): void {
    const passed = Math.max(0, now - this.at);
    this.thousandths = Math.min(this.limit.burst * message, this.thousandths + passed * this.limit.perSecond);
    this.at = now;
  }
}
