/** The one listening socket of the real line: doors of the channels and of the figures, and /health. */

import { createServer, type IncomingMessage, type ServerResponse } from 'node:http';
import type { AddressInfo } from 'node:net';
import { type Door, isLoopback } from '../channels/http.ts';
import type { Log } from '../line/ports.ts';
import { errorCode } from '../text/error-code.ts';
import { boundCallers } from './bound-callers.ts';

export interface HttpServer {
  readonly url: string;
  /** Takes no more calls; those under way are answered. */
  close(): Promise<void>;
}

/** A caller that is slower is cut off, ms; looked for so often. */
const slowestMs = 20_000;
const lookedForMs = 1_000;
/** Callers who have not finished their call, at most. Our convention. */
const unfinishedAtMost = 128;
const headersAtMost = 16_384;

/** Starts listening; rejects with the system's code (`EADDRINUSE`). */
export async function startHttp(options: {
  readonly host: string;
  readonly port: number;
  readonly doors: readonly Door[];
  readonly health: () => Promise<{ readonly ok: boolean }>;
  readonly log: Log;
  /** Another longest time for a call, ms. */
  readonly slowestMs?: number;
}): Promise<HttpServer> {
  const { doors, health, log } = options;
  const answer = async (request: IncomingMessage, response: ServerResponse): Promise<void> => {
    for (const door of doors) if (await door(request, response)) return;
    const path = (request.url ?? '/').split('?')[0];
    if (path !== '/health' || request.method !== 'GET' || !isLoopback(request)) {
      response.writeHead(404, { 'content-length': '0' }).end();
      return;
    }
    const found = await health();
    const body = JSON.stringify(found);
    response.writeHead(found.ok ? 200 : 503, { 'content-type': 'application/json', 'cache-control': 'no-store' });
    response.end(body);
  };
  const requestTimeout = options.slowestMs ?? slowestMs;
  const limits = {
    maxHeaderSize: headersAtMost,
    requestTimeout,
    headersTimeout: requestTimeout,
    connectionsCheckingInterval: Math.min(lookedForMs, requestTimeout),
  };
  const server = createServer(limits, (request, response) => {
    void answer(request, response).catch((error: unknown) => {
      log.write('error', 'call-failed', { code: errorCode(error) });
      // Not stored for all we know: the provider has to call again.
      if (!response.headersSent) response.writeHead(503, { 'content-length': '0' });
      response.end();
    });
  });
  boundCallers(server, unfinishedAtMost);
  await new Promise<void>((resolve, reject) => {
    server.once('error', reject);
    server.listen(options.port, options.host, () => resolve());
  });
  const { port } = server.address() as AddressInfo;
  const host = options.host.includes(':') ? `[${options.host}]` : options.host;
  return {
    url: `http://${host}:${port}/`,
    close: async () => {
      const closed = new Promise<void>((resolve) => server.close(() => resolve()));
      server.closeIdleConnections();
      await closed;
    },
  };
}
