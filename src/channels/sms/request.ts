/** One text as the gateway wants to be told of it. */
import type { OutboundMessage } from '../../line/ports.ts';
import type { GatewayMapping, SendField } from './mapping.ts';

export interface Account {
  readonly sendUrl: string;
  readonly user: string;
  readonly password: string;
  /** Our own number. */
  readonly number: string;
}

export interface HttpRequest {
  readonly url: string;
  readonly headers: Readonly<Record<string, string>>;
  readonly body: string;
}

/**
 * Builds the call. `text` is the part to send now and `encoding` what it was counted in; coding and length are decided
 * here, since gateways turn what does not fit into question marks without an error.
 */
export function sendRequest(
  mapping: GatewayMapping,
  account: Account,
  message: OutboundMessage,
  part: { readonly text: string; readonly encoding: 'GSM-7' | 'UCS-2' },
  report: { readonly reference: string; readonly url: string },
  now: number,
): HttpRequest {
  const { send } = mapping;
  const values: Readonly<Record<SendField, string>> = {
    to: message.to.address,
    from: account.number,
    text: part.text,
    coding: send.coding[part.encoding],
    validityMinutes: String(Math.max(1, Math.ceil((message.validUntil - now) / 60_000))),
    priority: send.priority[message.lane],
    reference: report.reference,
    reportUrl: report.url,
    user: account.user,
    password: account.password,
  };
  const fields: Record<string, string> = { ...send.fixed };
  for (const [field, name] of Object.entries(send.put)) fields[name] = values[field as SendField];
  const headers: Record<string, string> = {};
  if (send.basic) {
    headers.authorization = `Basic ${Buffer.from(`${account.user}:${account.password}`, 'utf8').toString('base64')}`;
  }
  if (send.body === 'text') {
    return {
      url: account.sendUrl,
      headers: { ...headers, ...fields, 'content-type': 'text/plain; charset=UTF-8' },
      body: part.text,
    };
  }
  return send.body === 'form'
    ? {
        url: account.sendUrl,
        headers: { ...headers, 'content-type': 'application/x-www-form-urlencoded' },
        body: new URLSearchParams(fields).toString(),
      }
    : {
        url: account.sendUrl,
        headers: { ...headers, 'content-type': 'application/json' },
        body: JSON.stringify(fields),
      };
}
