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

/** The country whose network writes its own numbers without the country: its code, `+` first, and how long they are. */
export interface Country {
  readonly code: string;
  /** Digits of a national number, the 0 before it not counted. */
  readonly digits: number;
}

/** Reads `+999/9`. Throws `RangeError` on anything else. */
export function readCountry(text: string): Country {
  const found = /^\+?([1-9]\d{0,3}|0{3}\d{0,7})\/(\d{1,2})$/.exec(text.replace(/\s+/g, ''));
  const digits = Number(found?.[2]);
  if (!found || digits < 4 || digits + found[1]!.length > 15) throw new RangeError('country');
  return { code: `+${found[1]}`, digits };
}

/**
 * The number in the form of the roster. Networks mark international numbers by `+`, `00` or not at all, and write those
 * of their own country with a 0 or without: these are completed by `country`; where none is set, one with a 0 is where
 * exactly one prefix is allowed. What could be two numbers, and what is no phone number (short codes, names), comes back
 * as it is.
 */
export function roundNumber(from: string, prefixes: Prefixes, country: Country | null = null): string {
  const bare = from.trim().replace(/[\s().-]+/g, '');
  if (!/^\+?\d{4,15}$/.test(bare)) return from.trim();
  if (bare.startsWith('+')) return bare;
  const national = country ? nationalNumber(bare, country) : null;
  const known = bare.length >= 10 ? prefixes.find((one) => bare.startsWith(one.slice(1))) : undefined;
  if (national !== null && country) {
    // By its length it is no international number of the country itself; it may be one of another.
    const foreign = known !== undefined && !known.startsWith(country.code) && !country.code.startsWith(known);
    return foreign ? bare : national;
  }
  if (bare.length < 7) return bare;
  if (known || (country && isOwn(bare, country))) return `+${bare}`;
  if (/^00[1-9]/.test(bare)) return `+${bare.slice(2)}`;
  if (/^0[1-9]/.test(bare) && prefixes.length === 1 && !country) return `${prefixes[0]}${bare.slice(1)}`;
  return bare;
}

/** Null: it has not the length of one. Some countries keep the 0 as a digit of the number itself. */
function nationalNumber(bare: string, { code, digits }: Country): string | null {
  if (bare.length === digits + 1 && bare.startsWith('0')) return `${code}${bare.slice(1)}`;
  return bare.length === digits ? `${code}${bare}` : null;
}

function isOwn(bare: string, { code, digits }: Country): boolean {
  return bare.startsWith(code.slice(1)) && bare.length === code.length - 1 + digits;
}

/** True for the number of a phone that does not say its country: nobody can be found or answered by it. */
export function lacksCountry(rounded: string): boolean {
  return /^\d{7,15}$/.test(rounded);
}

/** True for a number that the programme allows to be written to. */
export function mayWriteTo(address: string, prefixes: Prefixes): boolean {
  return /^\+\d{7,15}$/.test(address) && prefixes.some((one) => address.startsWith(one));
}
