/** The state of the bench as the page knows it: read as a whole whenever something happened. */
import { get } from './ask-line.ts';
import type { BenchState } from './contract.ts';

/** Pause in which several happenings are read at once, ms. */
const gatheredMs = 60;
const kinds = ['text', 'clock', 'net', 'cases', 'scenario', 'next', 'reset'] as const;

export interface StoreOptions {
  /** A new state; `before` null: the first, or everything began anew. */
  changed(state: BenchState, before: BenchState | null): void;
  /** The line answers, or does not. */
  linked(isThere: boolean): void;
}

export class Store {
  private readonly options: StoreOptions;
  private known: BenchState | null = null;
  /** Everything began anew: the next state has none before it. */
  private isAnew = true;
  /** Bench time minus this machine's, ms. */
  private ahead = 0;
  private reading: Promise<void> | null = null;
  private again = false;
  private timer: number | null = null;

  constructor(options: StoreOptions) {
    this.options = options;
  }

  /** The last state that was read. Throws before the first. */
  get state(): BenchState {
    if (!this.known) throw new Error('nothing was read yet');
    return this.known;
  }

  /** The time of the line, epoch ms. */
  now(): number {
    return Date.now() + this.ahead;
  }

  /** Listens to the line from now on. */
  open(): void {
    const events = new EventSource('/events');
    events.addEventListener('open', () => {
      this.options.linked(true);
      void this.refresh();
    });
    events.addEventListener('error', () => this.options.linked(false));
    for (const kind of kinds) {
      events.addEventListener(kind, (event) => {
        if (kind === 'clock') this.ahead = (JSON.parse(event.data) as { now: number }).now - Date.now();
        if (kind === 'reset') this.isAnew = true;
        this.soon();
      });
    }
  }

  /** Reads everything; a second call while one runs makes one more reading after it. */
  refresh(): Promise<void> {
    if (this.reading) {
      this.again = true;
      return this.reading;
    }
    this.reading = this.read().finally(() => {
      this.reading = null;
    });
    return this.reading;
  }

  private async read(): Promise<void> {
    do {
      this.again = false;
      // The words come once: they are most of a state.
      const words = this.known?.words;
      const answer = await get<BenchState>(words ? '/state?words=known' : '/state');
      if (!answer.ok) return;
      const state = words ? { ...answer.value, words } : answer.value;
      const before = this.isAnew ? null : this.known;
      this.isAnew = false;
      this.known = state;
      this.ahead = state.now - Date.now();
      this.options.changed(state, before);
    } while (this.again);
  }

  private soon(): void {
    this.timer ??= window.setTimeout(() => {
      this.timer = null;
      void this.refresh();
    }, gatheredMs);
  }
}
