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
 * Parts that one screen may take, by encoding: what GSM-7 cannot write has room for 70 signs a message, too few for a question
 * and its answers, so it may take two (our convention).
 */
const partsOfScreen = { 'GSM-7': 1, 'UCS-2': 2 } as const;

/** Units that one screen has room for, by encoding: 160, or 134 in two parts. */
export function unitsOfScreen(encoding: SegmentCount['encoding']): number {
  const { alone, part } = room[encoding];
  return partsOfScreen[encoding] === 1 ? alone : partsOfScreen[encoding] * part;
}

/** Whether a text fits one screen. */
export function fitsScreen(text: string): boolean {
  const { encoding, segments } = countSegments(text);
  return segments <= partsOfScreen[encoding];
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
    const width = widthOf(character, encoding);
    units += width;
    if (inPart + width > part) {
      parts += 1;
      inPart = 0;
    }
    inPart += width;
  }
  return { encoding, units, segments: units <= alone ? 1 : parts };
}

/** Octets that join a part to the others: length, element 00, its length, reference, count, place. */
const headerOctets = 6;

/**
 * Octets of user data that a text takes on the network, all parts together: septets packed eight to seven octets
 * (3GPP TS 23.038, section 6.1.2.1), two octets a UCS-2 unit, and in each part of several the header, behind which
 * septets begin at the next whole septet (3GPP TS 23.040, section 9.2.3.24). What networks add to that is not counted.
 */
export function userDataOctets(text: string): number {
  const { encoding, units, segments } = countSegments(text);
  const packed = (septets: number): number => Math.ceil((septets * 7) / 8);
  if (segments === 1) return encoding === 'GSM-7' ? packed(units) : 2 * units;
  const headerSeptets = Math.ceil((headerOctets * 8) / 7);
  const octetsOf = (part: number): number =>
    encoding === 'GSM-7' ? packed(headerSeptets + part) : headerOctets + 2 * part;
  return partsOf(text, encoding).reduce((sum, part) => sum + octetsOf(part), 0);
}

/** Units of each part of a text of several. */
function partsOf(text: string, encoding: SegmentCount['encoding']): readonly number[] {
  const parts = [0];
  for (const character of text) {
    const width = widthOf(character, encoding);
    if (parts.at(-1)! + width > room[encoding].part) parts.push(0);
    parts[parts.length - 1]! += width;
  }
  return parts;
}

function widthOf(character: string, encoding: SegmentCount['encoding']): number {
  return encoding === 'GSM-7' ? (septetsOf(character) ?? 1) : character.length;
}
