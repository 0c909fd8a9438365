/** Who may use the bench, and how requests are read and answered. */

import type { IncomingMessage, ServerResponse } from 'node:http';
import { isOfThisMachine, readBody } from '../http.ts';

/** Largest body taken, bytes: a text of 10,000 characters in any script fits. */
const bodyAtMost = 64_000;
/** What a sender of too much may still send before the connection is cut, bytes. */
const drainedAtMost = 1_000_000;

/**
 * True for a request of the bench's own page, or of a program on this machine that names no page. A page of another
 * origin, a name that was made to point here, and what a proxy passes on, get nothing.
 */
export function isOurs(request: IncomingMessage): boolean {
  if (!isOfThisMachine(request)) return false;
  const { host = '', origin } = request.headers;
  if (origin !== undefined && origin !== `http://${host}`) return false;
  const site = request.headers['sec-fetch-site'];
  if (site === undefined || site === 'same-origin' || site === 'none') return true;
  // Following a link to the page is harmless; anything else from another site is not.
  return request.method === 'GET' && request.headers['sec-fetch-mode'] === 'navigate';
}

/** What came in the body, or the answer it gets instead. */
export type Body =
  | { readonly ok: true; readonly value: Readonly<Record<string, unknown>> }
  | { readonly ok: false; readonly status: 400 | 413 | 415; readonly error: string };

/** Reads one JSON object of at most 64 kB. What is too long is read to its end (up to 1 MB) so that it can be told so. */
export async function readObject(request: IncomingMessage): Promise<Body> {
  const { body, whole } = await readBody(request, bodyAtMost, drainedAtMost);
  if (!whole) return { ok: false, status: 413, error: 'Too long for one request.' };
  if (!/^application\/json\b/.test(request.headers['content-type'] ?? '')) {
    return { ok: false, status: 415, error: 'JSON is expected.' };
  }
  const value = asRecord(body.toString('utf8'));
  return value ? { ok: true, value } : { ok: false, status: 400, error: 'One JSON object is expected.' };
}

function asRecord(body: string): Readonly<Record<string, unknown>> | null {
  try {
    const value: unknown = JSON.parse(body);
    return typeof value === 'object' && value !== null && !Array.isArray(value)
      ? (value as Record<string, unknown>)
      : null;
  } catch {
    return null;
  }
}

/** Headers of every answer: nothing is kept, framed, guessed or fetched from elsewhere. */
export const safeHeaders: Readonly<Record<string, string>> = {
  'cache-control': 'no-store',
  'content-security-policy':
    "default-src 'none'; script-src 'self'; style-src 'self'; connect-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'",
  'x-content-type-options': 'nosniff',
  'referrer-policy': 'no-referrer',
  'cross-origin-resource-policy': 'same-origin',
};

/** Answers with JSON. */
export function reply(response: ServerResponse, status: number, value: unknown): void {
  send(response, status, 'application/json; charset=utf-8', JSON.stringify(value));
}

/** Answers once; a second answer to the same request is dropped. */
export function send(response: ServerResponse, status: number, type: string, body: string): void {
  if (response.headersSent) return;
  response.writeHead(status, { ...safeHeaders, 'content-type': type });
  response.end(body);
}
