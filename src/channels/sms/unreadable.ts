/** What can be seen in a call that could not be read: it may be the only trace of somebody who calls for help. */
import { createHash } from 'node:crypto';
import { saysSos } from '../../conversation/hearing/sos-spelling.ts';
import { mayWriteTo } from './addresses.ts';

/**
 * Why a call, or a text in it, could not be read. `method`: a way of calling that the settings do not allow; `broken`: the
 * body is not what it says it is; `sender`, `text`, `reference`: the mapping names a field that is not there;
 * `content-type`: the text is to be the body itself, and the body is a form.
 */
export type Unread = 'method' | 'too-long' | 'broken' | 'sender' | 'text' | 'content-type' | 'reference';

/**
 * What the gateway is answered: never 200, so that it keeps what it brought. 503 where somebody can put the mapping right
 * meanwhile: gateways repeat on 5xx, and many drop on 4xx. 4xx where the same call will never be read: it is the gateway
 * that must change, or (`reference`) nothing is lost but the mark that a text arrived.
 */
export const statusOf: Readonly<Record<Unread, number>> = {
  method: 405,
  'too-long': 413,
  broken: 400,
  sender: 503,
  text: 503,
  'content-type': 503,
  reference: 422,
};

/** Behind the status, for whoever tries the door by hand: a body might be sent on to the phone. */
export const saysOf: Readonly<Record<Unread, string>> = {
  method: 'Send it by POST (GET needs NECKLINE_SMS_GET=yes)',
  'too-long': 'Send at most 120 kB',
  broken: 'Send a body that is what its content-type says',
  sender: 'Send the sender under the name of the mapping',
  text: 'Send the text under the name of the mapping',
  'content-type': 'Send the text itself as the body, with content-type text/plain',
  reference: 'Send the reference of the text with its report',
};

export interface UnreadableCall {
  readonly why: Unread;
  /** SOS can be seen in it. */
  readonly sos: boolean;
  /** Numbers in it that the line may write to, two at most: one of them may be the sender's. */
  readonly numbers: readonly string[];
  /** The same for the same call come again. */
  readonly mark: string;
}

/** Looks at all that a call holds, address and body, as it came. `own`: our own number, which is nobody's. */
export function lookAt(
  why: Unread,
  query: string,
  body: string,
  options: { readonly round: (from: string) => string; readonly prefixes: readonly string[]; readonly own: string },
): UnreadableCall {
  const seen = [query, body].flatMap((one) => [one, unescaped(one)]);
  const found = seen.flatMap((one) => [...one.matchAll(/\+\d{7,15}(?!\d)|(?<!\d)\d{7,15}(?!\d)/g)].map(([all]) => all));
  // Written with + it is a number for certain; bare digits may be a time.
  const ordered = [...found.filter((one) => one.startsWith('+')), ...found];
  const numbers = [...new Set(ordered.map(options.round))].filter(
    (one) => one !== options.own && mayWriteTo(one, options.prefixes),
  );
  return {
    why,
    sos: seen.some(saysSos),
    numbers: numbers.slice(0, 2),
    mark: createHash('sha256').update(`${query}\n${body}`).digest('base64url').slice(0, 22),
  };
}

/** Without the escapes of addresses and of JSON, as far as there are any. */
function unescaped(text: string): string {
  return text
    .replaceAll('+', ' ')
    .replace(/(?:%[0-9a-f]{2})+/gi, (one) => Buffer.from(one.replaceAll('%', ''), 'hex').toString('utf8'))
    .replace(/\\u([0-9a-f]{4})/gi, (_, code: string) => String.fromCharCode(Number.parseInt(code, 16)))
    .replace(/\\[nrtbf]/g, ' ');
}
