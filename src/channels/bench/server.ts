/** Serves the phone bench on this machine only: the page, the texts that arrive, and the few things it may do. */

import { randomBytes } from 'node:crypto';
import { createServer, type IncomingMessage, type ServerResponse } from 'node:http';
import type { AddressInfo } from 'node:net';
import type { Line } from '../../line/line.ts';
import type { Log } from '../../line/ports.ts';
import { errorCode } from '../../text/error-code.ts';
import { countSegments } from '../../text/segments.ts';
import type { BenchChannel } from './channel.ts';
import { type BenchClock, moveForward } from './clock.ts';
import { isOurs, readObject, reply, safeHeaders, send } from './door.ts';
import { peopleOf } from './history.ts';
import { pageHtml } from './page.ts';
import { pageCount } from './page-count.ts';
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
  /** IANA zone in which the page writes its times: that of the texts. */
  readonly zone: string;
  /** What `/health` answers. */
  readonly health: () => Promise<{ readonly ok: boolean }>;
}

export interface Bench {
  readonly url: string;
  /** Takes no more requests, leaves a moving clock at its next stop, and ends open streams. */
  close(): Promise<void>;
}

/** The clock is not moved further than this at once, ms. */
const moveAtMost = 400 * 86_400_000;
/** Longest text taken, characters. The line itself answers long ones with a hint. */
const textAtMost = 10_000;
const addressForm = /^bench:[a-z0-9-]{1,40}$/;

const pages: Readonly<Record<string, readonly [string, string]>> = {
  '/': ['text/html; charset=utf-8', pageHtml],
  '/page.css': ['text/css; charset=utf-8', pageStyle],
  '/count.js': ['text/javascript; charset=utf-8', pageCount],
  '/page.js': ['text/javascript; charset=utf-8', pageScript],
};

/** Starts the bench; rejects with the code of the system when the port is taken (`EADDRINUSE`). */
export async function startBench(options: BenchOptions): Promise<Bench> {
  const desk = new Desk(options);
  const server = createServer((request, response) => {
    void desk.answer(request, response).catch((error: unknown) => {
      options.log.write('error', 'bench-request-failed', { code: errorCode(error) });
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
    close: async () => {
      const closed = new Promise<void>((resolve) => server.close(() => resolve()));
      await desk.end();
      server.closeAllConnections();
      await closed;
    },
  };
}

type Wanted = Readonly<Record<string, unknown>>;

class Desk {
  private readonly options: BenchOptions;
  private readonly streams = new Set<ServerResponse>();
  /** The last text of each phone, to send it again. */
  private readonly sent = new Map<string, { readonly id: string; readonly text: string }>();
  private readonly stopListening: () => void;
  private moving: Promise<unknown> | null = null;
  private ended = false;

  constructor(options: BenchOptions) {
    this.options = options;
    this.stopListening = options.channel.listen((arrived) => this.tell('text', arrived));
  }

  async end(): Promise<void> {
    this.ended = true;
    this.stopListening();
    for (const stream of this.streams) stream.end();
    await this.moving?.catch(() => undefined);
  }

  async answer(request: IncomingMessage, response: ServerResponse): Promise<void> {
    if (!isOurs(request)) return reply(response, 403, { error: 'This page answers on this machine only.' });
    const path = (request.url ?? '/').split('?')[0]!;
    if (request.method === 'GET') return this.show(path, response);
    if (request.method !== 'POST') return reply(response, 405, { error: 'GET or POST.' });
    const body = await readObject(request);
    if (!body.ok) return reply(response, body.status, { error: body.error });
    if (this.ended) return reply(response, 503, { error: 'The line is closing.' });
    if (path === '/clock') return this.moveClock(body.value, response);
    const { address } = body.value;
    const hasPhone = typeof address === 'string' && addressForm.test(address);
    if (path !== '/send' && path !== '/net') return reply(response, 404, { error: 'There is nothing here.' });
    if (!hasPhone) return reply(response, 400, { error: 'Which phone?' });
    return path === '/send'
      ? this.sendText(address, body.value, response)
      : this.setNet(address, body.value.on === true, response);
  }

  private async show(path: string, response: ServerResponse): Promise<void> {
    const { line, clock, channel, programmeId, zone, health } = this.options;
    const page = Object.hasOwn(pages, path) ? pages[path] : undefined;
    if (page) return send(response, 200, page[0], page[1]);
    if (path === '/events') return this.stream(response);
    if (path === '/state') {
      return reply(response, 200, { now: clock.now(), zone, people: await peopleOf(line, channel, programmeId) });
    }
    if (path === '/health') {
      const state = await health();
      return reply(response, state.ok ? 200 : 503, state);
    }
    if (path === '/favicon.ico') return send(response, 204, 'image/x-icon', '');
    return reply(response, 404, { error: 'There is nothing here.' });
  }

  private async sendText(address: string, wanted: Wanted, response: ServerResponse): Promise<void> {
    const { channel, clock } = this.options;
    const again = wanted.again === true;
    const message = again ? await this.lastOf(address) : newMessage(wanted.text);
    if (!message) {
      const error = again ? 'Nothing was sent from this phone yet.' : `A text of at most ${textAtMost} characters.`;
      return reply(response, again ? 409 : 400, { error });
    }
    this.sent.set(address, message);
    const at = clock.now();
    let handled: string = 'held';
    try {
      await channel.carry({
        address,
        ...message,
        out: false,
        at,
        deliver: async () => {
          handled = await this.hear(address, message, at);
        },
      });
    } catch {
      return reply(response, 503, { error: 'The line could not store this. Send it again.' });
    }
    return reply(response, 200, { id: message.id, at, handled });
  }

  /** Throws when the text is not stored. */
  private async hear(address: string, message: { id: string; text: string }, at: number): Promise<string> {
    const { line, clock, channel, nudge } = this.options;
    const handled = await line.hearText({ channel: channel.name, address }, message.id, message.text, at);
    if (handled === 'failed') throw new Error('not stored');
    if (handled !== 'duplicate') {
      channel.forgetOptions(address);
      const { segments } = countSegments(message.text);
      channel.tell({ address, ...message, out: false, at: clock.now(), segments, options: [] });
    }
    nudge();
    return handled;
  }

  /** The last text of a phone, also from before a restart. */
  private async lastOf(address: string): Promise<{ id: string; text: string } | null> {
    const known = this.sent.get(address);
    if (known) return known;
    const { line, channel, programmeId } = this.options;
    const person = (await peopleOf(line, channel, programmeId)).find((one) => one.address === address);
    return person?.texts.findLast((one) => !one.out) ?? null;
  }

  private async setNet(address: string, on: boolean, response: ServerResponse): Promise<void> {
    const { channel, nudge } = this.options;
    try {
      await channel.setNet(address, on);
    } catch {
      return reply(response, 503, { error: 'The line could not store what waited. Switch the net on again.' });
    }
    nudge();
    this.tell('net', { address, on: channel.hasNet(address) });
    return reply(response, 200, { net: channel.hasNet(address) });
  }

  private async moveClock(wanted: Wanted, response: ServerResponse): Promise<void> {
    const { line, clock } = this.options;
    const { ms } = wanted;
    const isNext = wanted.next === true;
    if (!isNext && !(typeof ms === 'number' && ms > 0 && ms <= moveAtMost)) {
      return reply(response, 400, { error: 'How far? Milliseconds forward, at most 400 days.' });
    }
    if (this.moving) return reply(response, 409, { error: 'The clock is moving already.' });
    const seen = (): void => this.tell('clock', { now: clock.now() });
    const moved = moveForward(line, clock, isNext ? null : Number(ms), seen, () => this.ended);
    this.moving = moved;
    try {
      return reply(response, 200, { moved: await moved, now: clock.now() });
    } finally {
      this.moving = null;
    }
  }

  private stream(response: ServerResponse): void {
    if (this.ended) {
      reply(response, 503, { error: 'The line is closing.' });
      return;
    }
    response.writeHead(200, { ...safeHeaders, 'content-type': 'text/event-stream', connection: 'keep-alive' });
    response.write(`event: clock\ndata: ${JSON.stringify({ now: this.options.clock.now() })}\n\n`);
    this.streams.add(response);
    response.on('close', () => this.streams.delete(response));
  }

  private tell(kind: 'text' | 'clock' | 'net', what: unknown): void {
    for (const one of this.streams) one.write(`event: ${kind}\ndata: ${JSON.stringify(what)}\n\n`);
  }
}

function newMessage(text: unknown): { id: string; text: string } | null {
  if (typeof text !== 'string' || text.length > textAtMost) return null;
  return { id: `bench:${randomBytes(9).toString('base64url')}`, text };
}
