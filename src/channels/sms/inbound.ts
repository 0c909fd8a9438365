/** A call of the gateway with a text from a phone, as the line hears it. */
import { createHash } from 'node:crypto';
import { type Prefixes, roundNumber } from './addresses.ts';
import type { GatewayMapping } from './mapping.ts';

export interface InboundText {
  readonly from: string;
  readonly id: string;
  /** Further key by which a text that the network delivers again under a new id is known. */
  readonly moreKeys: readonly string[];
  readonly text: string;
  /** Epoch ms; null = the network does not say. */
  readonly networkAt: number | null;
  /** Which part of a long text this is, where the gateway does not join them; null = a whole text. */
  readonly part: PartOf | null;
}

/** `reference`: the same for all parts of a text. `number`: from 1. */
export interface PartOf {
  readonly reference: string;
  readonly number: number;
  readonly total: number;
}

export type ReadInbound =
  | { readonly ok: true; readonly value: InboundText }
  | { readonly ok: false; readonly why: 'no-sender' | 'bad-id' | 'too-long' };

/** Longest id of a gateway, characters. */
const idAtMost = 120;
/** Longest text taken, characters: ten parts and to spare. What is longer is no text of a phone. */
export const textAtMost = 10_000;

/**
 * Reads the call. Without an id of the gateway, sender, time and text are the key, and where the time is missing too
 * the call cannot be told from its repetition: then `at`, the instant of its arrival, stands for it.
 */
export function readInbound(
  mapping: GatewayMapping,
  parameters: URLSearchParams,
  body: string,
  prefixes: Prefixes,
  at: number,
): ReadInbound {
  const { inbound } = mapping;
  const value = (name: string | null): string => (name === null ? '' : (parameters.get(name) ?? ''));
  const sender = value(inbound.from);
  if (sender.trim() === '' || sender.length > 60) return { ok: false, why: 'no-sender' };
  const from = roundNumber(sender, prefixes);
  const text = inbound.text === null ? body : value(inbound.text);
  if (text.length > textAtMost) return { ok: false, why: 'too-long' };
  const given = value(inbound.id);
  if (given.length > idAtMost || /[^\x20-\x7e]/.test(given)) return { ok: false, why: 'bad-id' };
  const networkAt = instantOf(value(inbound.time), inbound.timeUnit);
  const part = partOf(value(inbound.header));
  const mark = part ? `\n${part.reference} ${part.number}/${part.total}` : '';
  const twin = hashOf(`${from}\n${networkAt ?? at}\n${text}${mark}`);
  return {
    ok: true,
    value: {
      from,
      id: given === '' ? `sms:${twin}` : `sms:${given}`,
      moreKeys: networkAt === null ? [] : [`sms-twin:${twin}`],
      text,
      networkAt,
      part,
    },
  };
}

function instantOf(text: string, unit: 'seconds' | 'milliseconds'): number | null {
  if (!/^\d{1,14}$/.test(text)) return null;
  const at = Number(text) * (unit === 'seconds' ? 1000 : 1);
  return at > 0 ? at : null;
}

function hashOf(text: string): string {
  return createHash('sha256').update(text).digest('base64url').slice(0, 32);
}

/**
 * Element 00 or 08 of the header: one part of several (3GPP TS 23.040, sections 9.2.3.24.1 and 9.2.3.24.8; written as
 * hexadecimal, with or without %). One whose numbers cannot be is passed over, as there.
 */
function partOf(header: string): PartOf | null {
  const octets = (header.replace(/%/g, '').match(/[0-9a-f]{2}/gi) ?? []).map((one) => Number.parseInt(one, 16));
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
