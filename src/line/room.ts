import type { Steady } from './ports.ts';

/** Texts on their way at once over one channel: never fewer, so that one that hangs does not stop the rest; never more. */
const least = 2;
const most = 32;
/** A text that takes so many times as long as one alone has waited behind others, as has one that takes much longer. */
const slowTimes = 1.5;
const slowMs = 20;

interface Channel {
  under: number;
  window: number;
  /** What a text takes that nothing is ahead of, ms; null = not known yet. */
  aloneMs: number | null;
}

/**
 * How many texts a channel takes at once without queueing them where nobody can change their order: more as long as each
 * takes no longer than one alone, half as many when they wait for each other.
 */
export class Room {
  private readonly steady: Steady;
  private readonly channels = new Map<string, Channel>();

  constructor(steady: Steady) {
    this.steady = steady;
  }

  /** Texts that each channel takes now; one that was never used is not named and takes `least`. */
  free(names: Iterable<string>): Readonly<Record<string, number>> {
    return Object.fromEntries([...names].map((name) => [name, this.of(name).window - this.of(name).under]));
  }

  /** A text sets out; the function that is given back is called when its fate is known. */
  begin(name: string): () => void {
    const channel = this.of(name);
    const alone = channel.under === 0;
    const since = this.steady();
    channel.under += 1;
    return () => {
      channel.under -= 1;
      const tookMs = this.steady() - since;
      // Whatever set out after it had to wait for it, not the other way round.
      if (alone) channel.aloneMs = tookMs;
      const base = channel.aloneMs ?? tookMs;
      const quick = tookMs <= base * slowTimes + slowMs;
      channel.window = quick ? Math.min(most, channel.window + 1) : Math.max(least, Math.floor(channel.window / 2));
    };
  }

  private of(name: string): Channel {
    const known = this.channels.get(name);
    if (known) return known;
    const fresh: Channel = { under: 0, window: least, aloneMs: null };
    this.channels.set(name, fresh);
    return fresh;
  }
}
