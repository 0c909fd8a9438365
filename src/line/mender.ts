/** After a start: what points to cases that are not there is mended, piece by piece beside everything else. */
import type { Clock, Log, Store } from './ports.ts';

export interface MenderParts {
  readonly store: Pick<Store, 'mendSome'>;
  readonly clock: Clock;
  readonly log: Log;
}

export class Mender {
  private readonly parts: MenderParts;
  /** Where the next piece begins; null = all was looked through. */
  private after: string | null = '';
  private mended = 0;

  constructor(parts: MenderParts) {
    this.parts = parts;
  }

  /** Mends the next piece; false = nothing was left to look at. */
  async next(): Promise<boolean> {
    if (this.after === null) return false;
    const { store, clock, log } = this.parts;
    const { mended, last } = await store.mendSome(this.after, clock.now());
    this.mended += mended;
    this.after = last;
    if (last === null && this.mended > 0) log.write('warn', 'pointers-mended', { count: this.mended });
    return last !== null;
  }
}
