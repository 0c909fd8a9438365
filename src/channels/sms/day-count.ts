/** Segments that one gateway took on one day. */
export class DayCount {
  private readonly dayOf: (now: number) => string;
  private day = '';
  private segments = 0;

  /** `dayOf`: the day (YYYY-MM-DD) of an instant where the programme is. */
  constructor(dayOf: (now: number) => string) {
    this.dayOf = dayOf;
  }

  add(segments: number, now: number): void {
    this.turn(now);
    this.segments += segments;
  }

  of(now: number): { readonly day: string; readonly segments: number } {
    this.turn(now);
    return { day: this.day, segments: this.segments };
  }

  /** Counted before the line was ended, on this day. */
  restore(day: string, segments: number, now: number): void {
    if (day === this.of(now).day) this.segments += segments;
  }

  private turn(now: number): void {
    const day = this.dayOf(now);
    if (day !== this.day) this.segments = 0;
    this.day = day;
  }
}
