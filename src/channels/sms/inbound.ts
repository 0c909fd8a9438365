/** A call of the gateway with a text from a phone, as the line hears it. */
import { createHash } from 'node:crypto';
import type { Fields } from './call-fields.ts';
import { instantOf } from './instant.ts';
import type { GatewayMapping } from './mapping.ts';
import { type PartOf, partOf } from './part-header.ts';

export interface InboundText {
  readonly from: string;
  readonly id: string;
  /** Key of these words under this id: a gateway that begins its ids anew gives one that was used, and another text under it is no repetition. */
  readonly words: string;
  /** Further key by which a text that the network delivers again under a new id is known. */
  readonly moreKeys: readonly string[];
  readonly text: string;
  /** Epoch ms; null = the network does not say. */
  readonly networkAt: number | null;
  /** Which part of a long text this is, where the gateway does not join them; null = a whole text. */
  readonly part: PartOf | null;
}

export type ReadInbound =
  | { readonly ok: true; readonly value: InboundText }
  | { readonly ok: false; readonly why: 'sender' | 'text' };

/** Longest id of a gateway, characters. */
const idAtMost = 120;
/** Longest text taken, characters: ten parts and to spare. What is longer is no text of a phone. */
export const textAtMost = 10_000;

/** Longest number or name of a sender, characters. */
const senderAtMost = 60;

/** The key of a text by the gateway's id. One that is too long or not plain is shortened: no text is lost for its id. */
function keyOfId(gateway: string, id: string): string {
  return id.length > idAtMost || /[^\x20-\x7e]/.test(id) ? `${gateway}:${hashOf(id)}` : `${gateway}:${id}`;
}

/**
 * Reads one text of a call. `body`: the text where the mapping names no field for it; null = it must have come in one.
 * `gateway` begins its keys: two gateways may count alike. Without an id of the gateway, sender, time and text are the key, and where the time is missing too the text cannot be
 * told from its repetition: then `otherwise` stands for it.
 */
export function readInbound(
  mapping: GatewayMapping,
  fields: Fields,
  body: string | null,
  by: { readonly gateway: string; readonly round: (from: string) => string; readonly otherwise: string },
): ReadInbound {
  const { inbound } = mapping;
  const { gateway, round, otherwise } = by;
  const value = (name: string | null): string => (name === null ? '' : (fields.value(name) ?? ''));
  const sender = value(inbound.from);
  if (sender.trim() === '' || sender.length > senderAtMost) return { ok: false, why: 'sender' };
  const given = inbound.text === null ? body : fields.value(inbound.text);
  if (given === null) return { ok: false, why: 'text' };
  const from = round(sender);
  const text = given.slice(0, textAtMost);
  const id = value(inbound.id);
  const networkAt = instantOf(value(inbound.time), inbound.timeUnit);
  const part = partOf(inbound.header === null ? '' : (fields.octets(inbound.header) ?? ''));
  const mark = part ? `\n${part.reference} ${part.number}/${part.total}` : '';
  const twin = hashOf(`${from}\n${networkAt ?? otherwise}\n${text}${mark}`);
  const own = id === '' ? `${gateway}:${twin}` : keyOfId(gateway, id);
  const words = `${own} ${hashOf(`${from}\n${text}${mark}`)}`;
  return {
    ok: true,
    value: {
      from,
      id: own,
      words,
      moreKeys: [words, ...(networkAt === null ? [] : [`sms-twin:${twin}`])],
      text,
      networkAt,
      part,
    },
  };
}

function hashOf(text: string): string {
  return createHash('sha256').update(text).digest('base64url').slice(0, 32);
}
