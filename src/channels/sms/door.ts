/** What the gateway calls: a text came in, a report on one of ours. */

import { createHash } from 'node:crypto';
import type { IncomingMessage, ServerResponse } from 'node:http';
import type { Handled } from '../../line/handle.ts';
import type { Clock, Log } from '../../line/ports.ts';
import { errorCode } from '../../text/error-code.ts';
import { type Door, readBody, tooMany } from '../http.ts';
import type { WrongSecrets } from '../wrong-secrets.ts';
import { type Country, lacksCountry, type Prefixes, roundNumber } from './addresses.ts';
import {
  type BodyKind,
  bodyKindOf,
  type CallFields,
  type Fields,
  fieldsOfQuery,
  firstOf,
  readCall,
} from './call-fields.ts';
import { type InboundText, readInbound } from './inbound.ts';
import type { LinkClock } from './link-clock.ts';
import type { GatewayMapping } from './mapping.ts';
import { idOfReference, isSecret, secretInHead } from './secrets.ts';
import { lookAt, saysOf, statusOf, type Unread, type UnreadableCall } from './unreadable.ts';

/** What the door needs of the line. */
export interface SmsHearing {
  /** Resolves once the text is durable. */
  hear(text: InboundText): Promise<Handled>;
  /** Moves the status of one of our texts forward. */
  report(id: string, status: 'sent' | 'delivered' | 'failed'): Promise<unknown>;
  /** A call could not be read. False: the coordinators could not be told of it. */
  unreadable(call: UnreadableCall): Promise<boolean>;
  /** A text was heard from a number that does not say its country, so that its sender gets no answer. */
  unknownForm(from: string): Promise<unknown>;
}

export interface DoorOptions {
  /** Its gateway calls `/<name>/in` and `/<name>/report`, and the keys of its texts begin with it. */
  readonly name: string;
  readonly mapping: GatewayMapping;
  readonly secrets: readonly string[];
  readonly prefixes: Prefixes;
  readonly country: Country | null;
  /** Our own number. */
  readonly own: string;
  /** Texts may come by GET too: they then stand in logs of whatever passes them on. */
  readonly allowGet: boolean;
  /** The secret may stand in the address too: it is then in the same logs. */
  readonly secretInQuery: boolean;
  readonly wrong: WrongSecrets;
  readonly linkClock: LinkClock;
  readonly clock: Clock;
  readonly log: Log;
  readonly line: SmsHearing;
}

/** Largest body, bytes: a longest text as JSON writes it at worst, or a list of many. */
const bodyAtMost = 120_000;

/** One call, its secret shown. */
interface Call {
  readonly isReport: boolean;
  readonly query: string;
  readonly body: Buffer;
}

/**
 * 200 only after all that a call brought is durably stored, since nothing else stops a gateway's retries; 503 when it
 * could not be stored, so that it comes again; what cannot be read is answered by `statusOf` and told to people. A call
 * without the secret is refused, and nothing of it is kept or told.
 */
export function smsDoor(options: DoorOptions): Door {
  return async (request, response) => {
    // Cut by hand: the parser of addresses throws on what anybody may send as one (`//`).
    const [path = '', query = ''] = (request.url ?? '').split(/\?(.*)/s);
    if (path !== `/${options.name}/in` && path !== `/${options.name}/report`) return false;
    options.wrong.tell();
    answer(response, await answerFor(options, request, path.endsWith('/report'), query));
    return true;
  };
}

/** A status, or why nothing could be read, which has its status and words. */
type Answer = number | Unread;

async function answerFor(
  options: DoorOptions,
  request: IncomingMessage,
  isReport: boolean,
  query: string,
): Promise<Answer> {
  const { mapping, secrets, wrong, allowGet, secretInQuery } = options;
  const head = secretInHead(request);
  // Nothing of what a stranger sends is read.
  if (head !== null && !isSecret(head, secrets)) return wrong.note(request) ? tooMany : 403;
  const { body, whole } = await readBody(request, bodyAtMost, bodyAtMost * 4);
  const call = { isReport, query, body };
  const byAddress = fieldsOfQuery(query);
  const contentType = request.headers['content-type'] ?? '';
  const kind = bodyKindOf(contentType, body.toString('latin1', 0, 100), isReport || mapping.inbound.text !== null);
  const each = (isReport ? mapping.report : mapping.inbound).each;
  const read = whole ? await readCall(kind, body, contentType, each) : null;
  const mayHold = [...(secretInQuery ? [byAddress] : []), ...(read ? [read.whole] : [])];
  const known = head !== null || isSecret(firstOf(...mayHold).value('secret'), secrets);
  const byMethod = request.method === 'POST' || (request.method === 'GET' && (isReport || allowGet));
  if (!byMethod) return known ? unread(options, call, 'method') : statusOf.method;
  if (!whole) return known ? unread(options, call, 'too-long') : statusOf['too-long'];
  if (!known) return wrong.note(request) ? tooMany : 403;
  if (read === null) return unread(options, call, 'broken');
  const items = read.items.map((one) => firstOf(byAddress, one));
  if (isReport) return takeReports(options, call, items);
  return takeTexts(options, call, items, kind);
}

/** Every text that can be read is heard, whatever is wrong with the others. */
async function takeTexts(
  options: DoorOptions,
  call: Call,
  items: CallFields['items'],
  kind: BodyKind,
): Promise<Answer> {
  const body = kind === 'plain' ? call.body.toString('utf8') : null;
  const { name, clock, mapping, prefixes, country, linkClock, line } = options;
  const now = clock.now();
  const round = (from: string): string => roundNumber(from, prefixes, country);
  const list = items.length > 1 ? createHash('sha256').update(call.body).digest('base64url') : null;
  const heard = items.map(async (fields, place): Promise<Unread | Handled> => {
    // The same list comes again when one of its texts could not be taken.
    const otherwise = list === null ? String(now) : `${list}\n${place}`;
    const read = readInbound(mapping, fields, body, { gateway: name, round, otherwise });
    if (!read.ok) return read.why === 'text' && mapping.inbound.text === null ? 'content-type' : read.why;
    const { from, networkAt } = read.value;
    linkClock.heard(now, networkAt);
    const handled = await line.hear({ ...read.value, networkAt: linkClock.isTrusted() ? networkAt : null });
    if (handled === 'done' && lacksCountry(from)) await line.unknownForm(from);
    return handled;
  });
  const outcomes = await Promise.all(heard);
  const why = outcomes.find((one): one is Unread => one in statusOf);
  const status = why === undefined ? 200 : await unread(options, call, why);
  return outcomes.includes('failed') ? 503 : status;
}

/** Counts the call, tells of it, and gives what the gateway is answered. */
async function unread(options: DoorOptions, call: Call, why: Unread): Promise<Answer> {
  const { prefixes, country, own, log, line } = options;
  log.write('warn', 'sms-call-unreadable', { channel: 'sms', code: why });
  const round = (from: string): string => roundNumber(from, prefixes, country);
  const seen = lookAt(why, call.query, call.body.toString('utf8'), { round, prefixes, own });
  // A report holds no words of anybody.
  const told = await line.unreadable(call.isReport ? { ...seen, sos: false } : seen);
  return told ? why : 503;
}

async function takeReports(options: DoorOptions, call: Call, items: CallFields['items']): Promise<Answer> {
  const statuses = await Promise.all(items.map((fields) => takeReport(options, fields)));
  if (statuses.includes(503)) return 503;
  return statuses.includes(null) ? unread(options, call, 'reference') : 200;
}

/** What one report is answered; null when it names no text at all. */
async function takeReport(options: DoorOptions, fields: Fields): Promise<number | null> {
  const { report } = options.mapping;
  const reference = fields.value(report.reference);
  if (reference === null) return null;
  const id = idOfReference(reference, options.secrets);
  const word = fields.value(report.status) ?? '';
  if (id === null) {
    // Not made by us: it is no better the next time, and none of our texts is concerned.
    options.log.write('warn', 'sms-report-unknown', { channel: 'sms' });
    return 200;
  }
  const status = report.failed.includes(word)
    ? 'failed'
    : report.delivered.includes(word)
      ? 'delivered'
      : report.accepted.includes(word)
        ? 'sent'
        : null;
  if (status === null) return 200;
  try {
    await options.line.report(id, status);
    return 200;
  } catch (error) {
    options.log.write('error', 'sms-report-failed', {
      channel: 'sms',
      code: errorCode(error),
    });
    return 503;
  }
}

/** Without a body: some gateways send what they get back to the phone. */
function answer(response: ServerResponse, given: Answer): void {
  if (response.headersSent) return;
  const headers = { 'content-length': '0', 'cache-control': 'no-store' };
  if (typeof given === 'number') response.writeHead(given, headers);
  else response.writeHead(statusOf[given], saysOf[given], headers);
  response.end();
}
