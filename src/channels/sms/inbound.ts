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
  /** A part of a long text whose other parts are missing. */
  readonly torn: boolean;
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
  const twin = hashOf(`${from}\n${networkAt ?? at}\n${text}`);
  return {
    ok: true,
    value: {
      from,
      id: given === '' ? `sms:${twin}` : `sms:${given}`,
      moreKeys: networkAt === null ? [] : [`sms-twin:${twin}`],
      text,
      networkAt,
      torn: isPart(value(inbound.header)),
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

/** Element 00 or 08: one part of several (3GPP TS 23.040, section 9.2.3.24; written as hexadecimal, with or without %). */
function isPart(header: string): boolean {
  const octets = (header.replace(/%/g, '').match(/[0-9a-f]{2}/gi) ?? []).map((one) => Number.parseInt(one, 16));
  for (let place = 1; place + 1 < octets.length; place += 2 + octets[place + 1]!) {
    if (octets[place] === 0x00 && octets[place + 1] === 3) return octets[place + 3] !== 1;
    if (octets[place] === 0x08 && octets[place + 1] === 4) return octets[place + 4] !== 1;
  }
  return false;
}
