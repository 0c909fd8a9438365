import { isGsm7, septetsOf } from './gsm7.ts';

/** What a text costs on the network. */
export interface SegmentCount {
  readonly encoding: 'GSM-7' | 'UCS-2';
  /** Septets (GSM-7) or 16-bit units (UCS-2), without headers. */
  readonly units: number;
  /** Messages that are paid for, at least 1: an empty text is sent as an empty message. */
  readonly segments: number;
}

/**
 * Room in a message of 140 octets: alone, and as a part with the six octets of the header that joins parts
 * (3GPP TS 23.040, sections 9.2.3.24 and 9.2.3.24.1, 8 bit reference; from memory).
 */
const room = {
  'GSM-7': { alone: 160, part: 153 },
  'UCS-2': { alone: 70, part: 67 },
} as const;

/** Units that fit one message alone, by encoding. */
export function unitsAlone(encoding: SegmentCount['encoding']): number {
  return room[encoding].alone;
}

/**
 * Counts segments as networks and senders do: an escape pair and a surrogate pair are never cut, so a part can end one
 * unit early. Never throws.
 */
export function countSegments(text: string): SegmentCount {
  const encoding = isGsm7(text) ? 'GSM-7' : 'UCS-2';
  const { alone, part } = room[encoding];
  let units = 0;
  let parts = 1;
  let inPart = 0;
  for (const character of text) {
    const width = encoding === 'GSM-7' ? (septetsOf(character) ?? 1) : character.length;
    units += width;
    if (inPart + width > part) {
      parts += 1;
      inPart = 0;
    }
    inPart += width;
  }
  return { encoding, units, segments: units <= alone ? 1 : parts };
}
