/** Serves the phone bench on this machine only: the page, the texts that arrive, and the few things it may do. */
import { randomBytes } from 'node:crypto';
import { createServer, type IncomingMessage, type ServerResponse } from 'node:http';
import type { AddressInfo } from 'node:net';
import type { Line } from '../../line/line.ts';
import type { Log } from '../../line/ports.ts';
import type { Arrived, BenchChannel } from './channel.ts';
import type { BenchClock } from './clock.ts';
import { pageHtml } from './page.ts';
import { pageScript } from './page-script.ts';
import { pageStyle } from './page-style.ts';

export interface BenchOptions {
  /** 0 = any free port (tests). */
  readonly port: number;
  readonly line: Line;
  readonly clock: BenchClock;
  readonly channel: BenchChannel;
  readonly nudge: () => void;
  readonly log: Log;
  readonly programmeId: string;
}

export interface Bench {
  readonly url: string;
  close(): Promise<void>;
}

/** Largest body taken, bytes: a text of 10,000 characters in any script fits. */
const bodyAtMost = 64_000;
/** The clock is not moved further than this at once, ms. */
const moveAtMost = 400 * 86_400_000;
const addressForm = /^bench:[a-z0-9-]{1,40}$/;

const pages: Readonly<Record<string, readonly [string, string]>> = {
  '/': ['text/html; charset=utf-8', pageHtml],
  '/page.css': ['text/css; charset=utf-8', pageStyle],
  '/page.js': ['text/javascript; charset=utf-8', pageScript],
};

/** Starts the bench; rejects when the port is taken. */
export async function startBench(options: BenchOptions): Promise<Bench> {
  const streams = new Set<ServerResponse>();
  const sent = new Map<string, { id: string; text: string }>();
  const stopListening = options.channel.listen((arrived) => tell(streams, 'text', arrived));
  const server = createServer((request, response) => {
    void answer(options, streams, sent, request, response).catch((error: unknown) => {
      options.log.write('error', 'bench-request-failed', { code: error instanceof Error ? error.name : 'unknown' });
      reply(response, 500, { error: 'The line could not do that.' });
    });
  });
  await new Promise<void>((resolve, reject) => {
    server.once('error', reject);
    server.listen(options.port, '127.0.0.1', () => resolve());
  });
  const { port } = server.address() as AddressInfo;
  return {
    url: `http://127.0.0.1:${port}/`,
    close: () =>
      new Promise((resolve) => {
        stopListening();
        for (const stream of streams) stream.end();
        server.close(() => resolve());
        server.closeAllConnections();
      }),
  };
}

async function answer(
  options: BenchOptions,
  streams: Set<ServerResponse>,
  sent: Map<string, { id: string; text: string }>,
  request: IncomingMessage,
  response: ServerResponse,
): Promise<void> {
  if (!isOurs(request)) return reply(response, 403, { error: 'This page answers on this machine only.' });
  const path = new URL(request.url ?? '/', 'http://bench').pathname;
  if (request.method === 'GET') {
    const page = pages[path];
    if (page) return send(response, 200, page[0], page[1]);
    if (path === '/events') return stream(options, streams, response);
    if (path === '/state') return reply(response, 200, await stateOf(options));
    return reply(response, 404, { error: 'There is nothing here.' });
  }
  if (request.method !== 'POST') return reply(response, 405, { error: 'GET or POST.' });
  const body = await readBody(request);
  if (body === null) return reply(response, 413, { error: 'Too long for one request.' });
  const wanted = asRecord(body);
  if (wanted === null) return reply(response, 400, { error: 'One JSON object is expected.' });
  switch (path) {
    case '/send':
      return sendText(options, sent, wanted, response);
    case '/clock':
      return moveClock(options, streams, wanted, response);
    case '/net': {
      const address = wanted.address;
      if (typeof address !== 'string' || !addressForm.test(address))
        return reply(response, 400, { error: 'Which phone?' });
      options.channel.setNet(address, wanted.on === true);
      options.nudge();
      return reply(response, 200, { net: options.channel.hasNet(address) });
    }
    default:
      return reply(response, 404, { error: 'There is nothing here.' });
  }
}

async function sendText(
  options: BenchOptions,
  sent: Map<string, { id: string; text: string }>,
  wanted: Readonly<Record<string, unknown>>,
  response: ServerResponse,
): Promise<void> {
  const { address, text } = wanted;
  if (typeof address !== 'string' || !addressForm.test(address)) return reply(response, 400, { error: 'Which phone?' });
  if (!options.channel.hasNet(address)) return reply(response, 409, { error: 'This phone has no net.' });
  const again = wanted.again === true ? sent.get(address) : undefined;
  if (wanted.again === true && !again) return reply(response, 409, { error: 'Nothing was sent from this phone yet.' });
  if (!again && typeof text !== 'string') return reply(response, 400, { error: 'Which text?' });
  const message = again ?? { id: `bench:${randomBytes(9).toString('base64url')}`, text: text as string };
  sent.set(address, message);
  const { line, clock } = options;
  const handled = await line.hearText({ channel: 'bench', address }, message.id, message.text, clock.now());
  options.nudge();
  if (handled === 'failed') return reply(response, 503, { error: 'The line could not store this. Send it again.' });
  return reply(response, 200, { id: message.id, at: clock.now(), handled });
}

/** From due instant to due instant, each settled before the next, as in real time. */
async function moveClock(
  options: BenchOptions,
  streams: Set<ServerResponse>,
  wanted: Readonly<Record<string, unknown>>,
  response: ServerResponse,
): Promise<void> {
  const { line, clock } = options;
  const ms = wanted.next === true ? null : wanted.ms;
  if (ms !== null && (typeof ms !== 'number' || !Number.isFinite(ms) || ms <= 0 || ms > moveAtMost)) {
    return reply(response, 400, { error: 'How far? A number of milliseconds forward.' });
  }
  const first = await line.settle();
  const until = ms === null ? (first ?? clock.now()) : clock.now() + (ms as number);
  for (let next = first; next !== null && next <= until; next = await line.settle()) {
    clock.moveTo(Math.max(next, clock.now() + 1));
    tell(streams, 'clock', { now: clock.now() });
  }
  clock.moveTo(until);
  await line.settle();
  tell(streams, 'clock', { now: clock.now() });
  return reply(response, 200, { now: clock.now() });
}

interface Shown {
  readonly id: string;
  readonly name: string;
  readonly roles: readonly string[];
  readonly address: string;
  readonly net: boolean;
  readonly texts: readonly { readonly id: string; readonly out: boolean; readonly at: number; readonly text: string }[];
}

async function stateOf(options: BenchOptions): Promise<{ now: number; people: readonly Shown[] }> {
  const { line, clock, channel } = options;
  const roster = await line.store.roster(options.programmeId);
  const people: Shown[] = [];
  for (const person of roster) {
    const address = person.addresses.find((one) => one.channel === 'bench')?.address;
    if (!address) continue;
    const messages = await line.store.messages({ personId: person.id });
    people.push({
      id: person.id,
      name: person.name,
      roles: person.roles,
      address,
      net: channel.hasNet(address),
      texts: messages
        .filter((one) => one.direction === 'in' || one.status !== 'queued')
        .slice(-200)
        .map((one) => ({ id: one.id, out: one.direction === 'out', at: one.at, text: one.text })),
    });
  }
  return { now: clock.now(), people };
}

function stream(options: BenchOptions, streams: Set<ServerResponse>, response: ServerResponse): void {
  response.writeHead(200, {
    'content-type': 'text/event-stream',
    'cache-control': 'no-store',
    connection: 'keep-alive',
  });
  response.write(`event: clock\ndata: ${JSON.stringify({ now: options.clock.now() })}\n\n`);
  streams.add(response);
  response.on('close', () => streams.delete(response));
}

function tell(streams: ReadonlySet<ServerResponse>, kind: 'text' | 'clock', what: Arrived | { now: number }): void {
  for (const one of streams) one.write(`event: ${kind}\ndata: ${JSON.stringify(what)}\n\n`);
}

/** A page of another origin, or a name that was made to point here, gets nothing. */
function isOurs(request: IncomingMessage): boolean {
  const host = request.headers.host ?? '';
  if (!/^(127\.0\.0\.1|localhost|\[::1\])(:\d{1,5})?$/.test(host)) return false;
  const { origin } = request.headers;
  if (origin === undefined) return request.method === 'GET' || request.headers['sec-fetch-site'] === undefined;
  return origin === `http://${host}`;
}

async function readBody(request: IncomingMessage): Promise<string | null> {
  const parts: Buffer[] = [];
  let size = 0;
  for await (const part of request as AsyncIterable<Buffer>) {
    size += part.length;
    if (size > bodyAtMost) return null;
    parts.push(part);
  }
  return Buffer.concat(parts).toString('utf8');
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

function reply(response: ServerResponse, status: number, value: unknown): void {
  send(response, status, 'application/json; charset=utf-8', JSON.stringify(value));
}

function send(response: ServerResponse, status: number, type: string, body: string): void {
  if (response.headersSent) return;
  response.writeHead(status, {
    'content-type': type,
    'cache-control': 'no-store',
    'content-security-policy':
      "default-src 'none'; script-src 'self'; style-src 'self'; connect-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'",
    'x-content-type-options': 'nosniff',
    'referrer-policy': 'no-referrer',
    'cross-origin-resource-policy': 'same-origin',
  });
  response.end(body);
}
