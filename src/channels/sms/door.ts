/** What the gateway calls: a text came in, a report on one of ours. */
import type { IncomingMessage, ServerResponse } from 'node:http';
import type { Handled } from '../../line/handle.ts';
import type { Clock, Log } from '../../line/ports.ts';
import type { Prefixes } from './addresses.ts';
import { type PartOf, readInbound, textAtMost } from './inbound.ts';
import type { LinkClock } from './link-clock.ts';
import type { GatewayMapping } from './mapping.ts';
import { idOfReference, isSecret, secretOf } from './secrets.ts';

/** What the door needs of the line. */
export interface SmsHearing {
  /** Resolves once the text is durable. */
  hear(text: {
    readonly from: string;
    readonly id: string;
    readonly moreKeys: readonly string[];
    readonly text: string;
    readonly networkAt: number | null;
    readonly part: PartOf | null;
  }): Promise<Handled>;
  /** Moves the status of one of our texts forward. */
  report(id: string, status: 'sent' | 'delivered' | 'failed'): Promise<unknown>;
}

export interface DoorOptions {
  readonly mapping: GatewayMapping;
  readonly secrets: readonly string[];
  readonly prefixes: Prefixes;
  /** Texts may come by GET too: they then stand in logs of whatever passes them on. */
  readonly allowGet: boolean;
  readonly linkClock: LinkClock;
  readonly clock: Clock;
  readonly log: Log;
  readonly line: SmsHearing;
}

/** Largest body, bytes: four octets a character. */
const bodyAtMost = textAtMost * 4;

/** Answers calls below `/sms/`; false for any other path. */
export type Door = (request: IncomingMessage, response: ServerResponse) => Promise<boolean>;

/**
 * 200 only after the text is durably stored, since nothing else stops a gateway's retries; 503 when it could not be
 * stored, so that it comes again. A call without the secret learns nothing but 403.
 */
export function smsDoor(options: DoorOptions): Door {
  return async (request, response) => {
    // Cut by hand: the parser of addresses throws on what anybody may send as one (`//`).
    const [path = '', query = ''] = (request.url ?? '').split(/\?(.*)/s);
    if (path !== '/sms/in' && path !== '/sms/report') return false;
    const isReport = path === '/sms/report';
    const { method } = request;
    if (method !== 'POST' && !(method === 'GET' && (isReport || options.allowGet))) {
      answer(response, 405);
      return true;
    }
    const body = await bodyOf(request);
    if (body === null) {
      answer(response, 413);
      return true;
    }
    const parameters = new URLSearchParams(query);
    const isForm = /^application\/x-www-form-urlencoded\b/.test(request.headers['content-type'] ?? '');
    if (isForm) for (const [name, value] of new URLSearchParams(body)) parameters.append(name, value);
    if (!isSecret(secretOf(request, parameters), options.secrets)) {
      options.log.write('warn', 'sms-call-refused', { channel: 'sms', code: 'secret' });
      answer(response, 403);
      return true;
    }
    answer(
      response,
      await (isReport ? takeReport(options, parameters) : takeText(options, parameters, isForm ? '' : body)),
    );
    return true;
  };
}

async function takeText(options: DoorOptions, parameters: URLSearchParams, body: string): Promise<number> {
  const { clock, log } = options;
  const now = clock.now();
  const read = readInbound(options.mapping, parameters, body, options.prefixes, now);
  if (!read.ok) {
    // 200: such a call is no better the next time.
    log.write('warn', 'sms-call-unreadable', { channel: 'sms', code: read.why });
    return 200;
  }
  const { networkAt } = read.value;
  options.linkClock.heard(now, networkAt);
  const trusted = options.linkClock.isTrusted() ? networkAt : null;
  const handled = await options.line.hear({ ...read.value, networkAt: trusted });
  return handled === 'failed' ? 503 : 200;
}

async function takeReport(options: DoorOptions, parameters: URLSearchParams): Promise<number> {
  const { report } = options.mapping;
  const id = idOfReference(parameters.get(report.reference) ?? '', options.secrets);
  const word = parameters.get(report.status) ?? '';
  if (id === null) {
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
      code: error instanceof Error ? error.name : 'unknown',
    });
    return 503;
  }
}

/** The body as text, or null when it is larger than any text. */
async function bodyOf(request: IncomingMessage): Promise<string | null> {
  const parts: Buffer[] = [];
  let size = 0;
  for await (const part of request as AsyncIterable<Buffer>) {
    size += part.length;
    if (size > bodyAtMost * 4) return null;
    if (size <= bodyAtMost) parts.push(part);
  }
  return size > bodyAtMost ? null : Buffer.concat(parts).toString('utf8');
}

/** Without a body: some gateways send what they get back to the phone. */
function answer(response: ServerResponse, status: number): void {
  if (response.headersSent) return;
  response.writeHead(status, { 'content-length': '0', 'cache-control': 'no-store' });
  response.end();
}
