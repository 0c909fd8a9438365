/** Draws numbers from an event's seed: the only randomness of a step, the same for the same seed. */
export interface Draw {
  /** A whole number from 0 to `below` - 1; `below` at most 2^31. */
  below(below: number): number;
  /** `count` decimal digits; the first is not 0. */
  digits(count: number): string;
}

/** Small fast counter generator (sfc32) over the seed's 16 bytes. Guessing it means guessing the secret seed. */
export function drawFrom(seed: Uint8Array): Draw {
  const word = (at: number): number =>
    ((seed[at] ?? 0) | ((seed[at + 1] ?? 0) << 8) | ((seed[at + 2] ?? 0) << 16) | ((seed[at + 3] ?? 0) << 24)) >>> 0;
  let a = word(0);
  let b = word(4);
  let c = word(8);
  let counter = word(12) || 1;
  const next = (): number => {
    const sum = (a + b + counter) >>> 0;
    counter = (counter + 1) >>> 0;
    a = (b ^ (b >>> 9)) >>> 0;
    b = (c + (c << 3)) >>> 0;
    c = (((c << 21) | (c >>> 11)) + sum) >>> 0;
    return sum;
  };
  for (let i = 0; i < 16; i += 1) next();
  const below = (limit: number): number => {
    // Rejection keeps every value equally likely.
    const ceiling = Math.floor(2 ** 32 / limit) * limit;
    let drawn = next();
    while (drawn >= ceiling) drawn = next();
    return drawn % limit;
  };
  return {
    below,
    digits: (count) => {
      let text = String(1 + below(9));
      for (let i = 1; i < count; i += 1) text += String(below(10));
      return text;
    },
  };
}
