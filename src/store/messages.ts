/** Texts in and out as the history keeps them; what waits to be sent is the same rows (`outbox.ts`). */
import type { Address } from '../conversation/world.ts';
import type { ChangeSet, OutboundMessage } from '../line/ports.ts';
import type { Context } from './context.ts';
import { keyIdFor } from './data-keys.ts';
import { addressHash } from './keys.ts';
import type { Plan } from './plan.ts';
import { planReplacing, subjectOf } from './replace.ts';
import type { NewMessage } from './rows.ts';
import { laneRank } from './schema.ts';
import { sealJson } from './seal.ts';
import type { Steps } from './statement.ts';

/** The sealed part of a text, either way. */
export interface SealedText {
  readonly address: Address;
  readonly text: string;
  readonly more?: Pick<OutboundMessage, 'encoding' | 'flow' | 'step' | 'code' | 'ask' | 'hereOnly' | 'picture'>;
}

export function messageBound(id: string): string {
  return `message:${id}`;
}

/** Among whose texts the order is kept. */
function recipientOf(context: Context, programmeId: string, personId: string | null, address: Address): string {
  return personId ?? `stranger:${addressHash(context.ring, programmeId, address).toString('base64url')}`;
}

/** Nothing: the words stand in the record of the case that they led to. */
const inRecord = Buffer.alloc(0);

/** The case of the change whose first record takes in the words that led to it, so that its chain covers them. */
export function recordingCase(by: ChangeSet): string | null {
  const caseId = by.inbound?.caseId ?? null;
  const put = by.cases.find(({ value }) => value.id === caseId);
  return put?.records[0]?.eventId === by.eventId ? caseId : null;
}

/** The words that came in, as they are sealed. */
export function inboundText(inbound: NonNullable<ChangeSet['inbound']>): SealedText {
  return { address: inbound.address, text: inbound.text };
}

/** Plans to keep the text that came in under the id of its event. */
export function* putInbound(context: Context, plan: Plan, by: ChangeSet): Steps<void> {
  const inbound = by.inbound;
  if (!inbound) return;
  const { programmeId, eventId, at } = by;
  const keyId = keyIdFor({ caseId: inbound.caseId, personId: inbound.personId, programmeId, at });
  const key = yield* context.keys.obtain(keyId, programmeId);
  const sealed = recordingCase(by) === null ? sealJson(key, inboundText(inbound), messageBound(eventId)) : inRecord;
  const row: NewMessage = {
    id: eventId,
    programme_id: programmeId,
    direction: 'in',
    at,
    person_id: inbound.personId,
    case_id: inbound.caseId,
    recipient: recipientOf(context, programmeId, inbound.personId, inbound.address),
    status: 'received',
    lane: 0,
    not_before: at,
    valid_until: at,
    tries: 0,
    safety: 0,
    segments: 0,
    network_at: inbound.networkAt,
    key_id: keyId,
    sealed,
    channel: inbound.address.channel,
    place: 1,
    subject: null,
  };
  plan.may(context.hot.insertMessage, row);
}

/** Plans to queue one text; one with the same id is there already from the same event. */
export function* putOutbound(context: Context, plan: Plan, programmeId: string, message: OutboundMessage): Steps<void> {
  const keyId = keyIdFor({ ...message, programmeId });
  const key = yield* context.keys.obtain(keyId, programmeId);
  const { encoding, flow, step, code, ask, hereOnly, picture } = message;
  const subject = subjectOf(context.ring, programmeId, message);
  const part: SealedText = {
    address: message.to,
    text: message.text,
    more: {
      encoding,
      flow,
      step,
      code,
      ask,
      ...(hereOnly ? { hereOnly } : {}),
      ...(picture === undefined ? {} : { picture }),
    },
  };
  const row: NewMessage = {
    id: message.id,
    programme_id: programmeId,
    direction: 'out',
    at: message.at,
    person_id: message.personId,
    case_id: message.caseId,
    recipient: recipientOf(context, programmeId, message.personId, message.to),
    status: 'queued',
    lane: laneRank(message.lane),
    not_before: message.notBefore,
    valid_until: message.validUntil,
    tries: 0,
    safety: message.safety ? 1 : 0,
    segments: message.segments,
    network_at: null,
    key_id: keyId,
    sealed: sealJson(key, part, messageBound(message.id)),
    channel: message.to.channel,
    place: message.first ? 0 : 1,
    subject,
  };
  plan.may(context.hot.insertMessage, row);
  planReplacing(plan, context.hot, context.ring, programmeId, message, {
    recipient: row.recipient,
    subject,
    id: row.id,
  });
}
