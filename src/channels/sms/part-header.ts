/** The header of a part of a long text: which part it is. */

/** `reference`: the same for all parts of a text. `number`: from 1. */
export interface PartOf {
  readonly reference: string;
  readonly number: number;
  readonly total: number;
}

/**
 * Element 00 or 08 of the header: one part of several (3GPP TS 23.040, sections 9.2.3.24.1 and 9.2.3.24.8). One whose
 * numbers cannot be is passed over, as there. `header`: its octets, one character each, or written as hexadecimal, with
 * or without %; null for a whole text.
 */
export function partOf(header: string): PartOf | null {
  const octets = octetsOf(header);
  for (let place = 1; place + 1 < octets.length; place += 2 + octets[place + 1]!) {
    const [element, length] = [octets[place], octets[place + 1]!];
    const isShort = element === 0x00 && length === 3;
    if (!isShort && !(element === 0x08 && length === 4)) continue;
    const own = octets.slice(place + 2, place + 2 + length);
    const [total = 0, number = 0] = own.slice(-2);
    if (own.length < length || total < 2 || number < 1 || number > total) continue;
    return { reference: own.slice(0, -2).join('.'), number, total };
  }
  return null;
}

/** A header begins with the count of the octets behind it; written as hexadecimal its first character is no such count. */
function octetsOf(header: string): readonly number[] {
  const plain = [...Buffer.from(header, 'latin1')];
  if (plain.length > 1 && plain[0] === plain.length - 1) return plain;
  return (header.replace(/%/g, '').match(/[0-9a-f]{2}/gi) ?? []).map((one) => Number.parseInt(one, 16));
}
