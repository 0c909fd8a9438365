/** Numbers that are the same for the same seed (mulberry32, public domain, T. Ettinger). */
export interface Chance {
  /** A whole number from 0 to `limit` - 1. */
  below(limit: number): number;
}

export function chanceOf(seed: number): Chance {
  let state = seed >>> 0;
  return {
    below: (limit) => {
      state = (state + 0x6d2b79f5) >>> 0;
      let mixed = Math.imul(state ^ (state >>> 15), state | 1);
      mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
      return Math.floor((((mixed ^ (mixed >>> 14)) >>> 0) / 4_294_967_296) * limit);
    },
  };
}

/** The seed of this run: `CRASH_SEED`, else a fresh one. */
export const runSeed: number = Number(process.env.CRASH_SEED ?? Math.floor(Math.random() * 1e9));
