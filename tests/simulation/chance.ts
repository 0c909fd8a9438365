import { drawFrom } from '../../src/conversation/random.ts';

/** Seeded chance of a simulated town: the same seed, the same life. */
export interface Chance {
  /** True with this probability, 0 to 1. */
  happens(probability: number): boolean;
  below(limit: number): number;
  pick<T>(of: readonly T[]): T;
  /** One of the keys, by weight. */
  weighted<T extends string>(weights: Readonly<Record<T, number>>): T;
  /** Between two numbers of minutes, in ms. */
  minutes(least: number, most: number): number;
}

export function chanceOf(seed: number): Chance {
  const bytes = new Uint8Array(16);
  for (let i = 0; i < 4; i += 1) bytes[i] = (seed >>> (8 * i)) & 255;
  const draw = drawFrom(bytes);
  const happens = (probability: number): boolean => draw.below(1_000_000) < probability * 1_000_000;
  const below = (limit: number): number => draw.below(limit);
  return {
    happens,
    below,
    pick: (of) => of[below(of.length)]!,
    weighted: (weights) => {
      const entries = Object.entries(weights) as [keyof typeof weights & string, number][];
      let left = below(entries.reduce((sum, [, weight]) => sum + weight, 0));
      for (const [key, weight] of entries) {
        if (left < weight) return key as never;
        left -= weight;
      }
      throw new Error('weights');
    },
    minutes: (least, most) => (least * 60 + below((most - least) * 60 + 1)) * 1000,
  };
}
