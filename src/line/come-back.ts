/** After an outage: whoever is in the middle of something hears that the line is back. */
import type { Handler } from './handle.ts';
import type { Clock, Random, Store } from './ports.ts';

/** People told at once; what they wrote themselves meanwhile waits for so many at most. */
const pieceAtMost = 64;

export interface ComeBackParts {
  readonly store: Store;
  readonly handler: Handler;
  readonly clock: Clock;
  readonly random: Random;
  readonly programmeId: string;
}

/**
 * Tells piece by piece, so that nothing waits for the last of many. The mark `alive`, from which the outage is known,
 * must not be set anew before all were told: a line that dies in between begins again, and nobody hears it twice.
 */
export class ComeBack {
  private readonly parts: ComeBackParts;
  private readonly leastMs: number;
  /** Id of the person told last; null = all were told. */
  private after: string | null = '';
  private alive: number | null = null;

  /** An outage of less than `leastMs` goes unnoticed. */
  constructor(parts: ComeBackParts, leastMs: number) {
    this.parts = parts;
    this.leastMs = leastMs;
  }

  /** Tells the next piece; false = nobody was left to tell. */
  async next(): Promise<boolean> {
    if (this.after === null) return false;
    const { store, handler, clock, random, programmeId } = this.parts;
    const now = clock.now();
    this.alive ??= Number((await store.mark('alive')) ?? now);
    const { alive } = this;
    const people = now - alive < this.leastMs ? [] : await store.talking(programmeId, this.after, pieceAtMost);
    await Promise.all(
      people.map((personId) => {
        const id = `back:${alive}:${personId}`;
        const what = { kind: 'line-back', since: alive } as const;
        const due = { id, programmeId, personId, caseId: null, name: 'back', frameId: null, dueAt: now, what };
        return handler.handle({ id, programmeId, keys: [id], at: now, seed: random.bytes(16), kind: 'due', due });
      }),
    );
    this.after = people.at(-1) ?? null;
    return this.after !== null;
  }
}
