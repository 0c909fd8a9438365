/** Phone numbers as the roster holds them: `+`, country, number. */

/** Prefixes that may be written to, `+` first; an empty list allows none. */
export type Prefixes = readonly string[];

/** Reads `+254, 255` as prefixes. Throws `RangeError` on one that is no prefix. */
export function readPrefixes(text: string): Prefixes {
  return text
    .split(/[\s,;]+/)
    .filter((one) => one !== '')
    .map((one) => {
      if (!/^\+?[1-9]\d{0,9}$|^\+0{3}\d{0,7}$/.test(one)) throw new RangeError('prefix');
      return one.startsWith('+') ? one : `+${one}`;
    });
}

/**
 * The number in the form of the roster. Networks mark international numbers by `+`, `00` or not at all, and write
 * those of their own country with a 0: that one is completed only where exactly one prefix is allowed. What is no
 * phone number (short codes, names) comes back as it is.
 */
export function roundNumber(from: string, prefixes: Prefixes): string {
  const bare = from.trim().replace(/[\s().-]+/g, '');
  if (!/^\+?\d{7,15}$/.test(bare)) return from.trim();
  if (bare.startsWith('+')) return bare;
  const known = prefixes.find((one) => bare.startsWith(one.slice(1)) && bare.length >= 10);
  if (known) return `+${bare}`;
  if (/^00[1-9]/.test(bare)) return `+${bare.slice(2)}`;
  if (/^0[1-9]/.test(bare) && prefixes.length === 1) return `${prefixes[0]}${bare.slice(1)}`;
  return bare;
}

/** True for a number that the programme allows to be written to. */
export function mayWriteTo(address: string, prefixes: Prefixes): boolean {
  return /^\+\d{7,15}$/.test(address) && prefixes.some((one) => address.startsWith(one));
}
