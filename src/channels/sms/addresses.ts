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
  /** Digits of a national number, the trunk digit before it not counted. */
  readonly digits: number;
  /** What is dialled before a national number within the country, mostly 0. */
  readonly trunk: string;
}

/** Reads `+999/9`, or `+999/9/8` where the trunk digit is not 0. Throws `RangeError` on anything else. */
export function readCountry(text: string): Country {
  const found = /^\+?([1-9]\d{0,3}|0{3}\d{0,7})\/(\d{1,2})(?:\/(\d{1,2}))?$/.exec(text.replace(/\s+/g, ''));
  const digits = Number(found?.[2]);
  if (!found || digits < 4 || digits + found[1]!.length > 15) throw new RangeError('country');
  return { code: `+${found[1]}`, digits, trunk: found[3] ?? '0' };
}

/** Country codes of fewer than three digits (ITU-T E.164, list of assigned country codes). */
const shortCodes = '[17]|2[07]|3[0-469]|4[013-9]|5[1-8]|6[0-6]|8[1246]|9[0-58]';

/** The whole code of a country, the invented `+000…` too; what is longer holds a part of the number. */
const countryCode = new RegExp(`^\\+(?:${shortCodes}|(?!${shortCodes})[1-9]\\d\\d|000\\d*)$`);

/**
 * The number in the form of the roster. Networks mark international numbers by `+`, `00` or not at all, and write those
 * of their own country with the trunk digit or without: these are completed by `country`; where none is set, one with a 0
 * is where the one prefix that is allowed is a whole country code. What could be two numbers, and what is no phone number (short codes, names), comes back
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
  const [only = '', another] = prefixes;
  if (/^0[1-9]/.test(bare) && !country && another === undefined && countryCode.test(only))
    return `${only}${bare.slice(1)}`;
  return bare;
}

/** Null: it has not the length of one. Some countries keep the 0 as a digit of the number itself. */
function nationalNumber(bare: string, { code, digits, trunk }: Country): string | null {
  if (bare.length === trunk.length + digits && bare.startsWith(trunk)) return `${code}${bare.slice(trunk.length)}`;
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
