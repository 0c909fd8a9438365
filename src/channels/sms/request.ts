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
  const headers: Record<string, string> = {};
  if (send.basic) {
    headers.authorization = `Basic ${Buffer.from(`${account.user}:${account.password}`, 'utf8').toString('base64')}`;
  }
  for (const [name, value] of Object.entries(send.headers)) headers[name.toLowerCase()] = filledIn(value, account);
  const said = Object.entries(send.put).map(([field, name]) => [name, field as SendField] as const);
  if (send.body === 'json') {
    const body: Readonly<Record<string, unknown>> = {};
    for (const [name, value] of Object.entries(send.fixed)) putAt(body, name, value);
    for (const [name, field] of said) {
      putAt(body, name, send.numbers.includes(field) ? Number(values[field]) : values[field]);
    }
    const json = JSON.stringify(body);
    return { url: account.sendUrl, headers: { ...headers, 'content-type': 'application/json' }, body: json };
  }
  const fields = Object.fromEntries([
    ...Object.entries(send.fixed).map(([name, value]) => [name, String(value)] as const),
    ...said.map(([name, field]) => [name, values[field]] as const),
  ]);
  if (send.body === 'text') {
    const type = { 'content-type': 'text/plain; charset=UTF-8' };
    return { url: account.sendUrl, headers: { ...headers, ...fields, ...type }, body: part.text };
  }
  const type = { 'content-type': 'application/x-www-form-urlencoded' };
  return { url: account.sendUrl, headers: { ...headers, ...type }, body: new URLSearchParams(fields).toString() };
}

/** A header of the mapping with user and password in their places. */
export function filledIn(value: string, { user, password }: Account): string {
  return value.replace(/\{(user|password)\}/g, (_, which: string) => (which === 'user' ? user : password));
}

type Holder = Record<string, unknown> | unknown[];

/** Puts a value at a path; what is on the way is made: a list where a number follows, else an object. */
function putAt(root: Holder, path: string, value: unknown): void {
  const names = path.split('.');
  let holder = root as Record<string, unknown>;
  for (const [place, name] of names.slice(0, -1).entries()) {
    const inner = Object.hasOwn(holder, name) ? holder[name] : /^\d{1,2}$/.test(names[place + 1]!) ? [] : {};
    setOwn(holder, name, inner);
    holder = inner as Record<string, unknown>;
  }
  setOwn(holder, names.at(-1)!, value);
}

/** Not by assignment, which a name such as `__proto__` would turn into something else. */
function setOwn(holder: Holder, name: string, value: unknown): void {
  Object.defineProperty(holder, name, { value, enumerable: true, writable: true, configurable: true });
}
