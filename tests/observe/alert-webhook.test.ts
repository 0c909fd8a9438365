import { createServer, type IncomingHttpHeaders, type Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { Alert } from '../../src/line/ports.ts';
import { alertWebhook } from '../../src/observe/alert-webhook.ts';

const at = Date.UTC(2030, 2, 4, 8);
const alert: Alert = { what: 'disk-low', state: 'begun', at, since: at - 1000, text: 'The disk is nearly full.' };

let server: Server;
let url: string;
let status: number;
let calls: { method: string; path: string; headers: IncomingHttpHeaders; body: string }[];
let logged: unknown[];

beforeEach(async () => {
  status = 204;
  calls = [];
  logged = [];
  server = createServer(async (request, response) => {
    let body = '';
    for await (const part of request) body += part;
    calls.push({ method: request.method!, path: request.url!, headers: request.headers, body });
    if (status === 0) return;
    response.writeHead(status, status === 302 ? { location: '/elsewhere' } : {}).end();
  });
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  url = `http://127.0.0.1:${(server.address() as AddressInfo).port}/hook`;
});
afterEach(() => {
  server.closeAllConnections();
  server.close();
});

const post = (more: { url?: string; token?: string | null } = {}, signal = new AbortController().signal) =>
  alertWebhook({ url, token: 'a-secret-of-theirs', ...more, log: { write: (...line) => void logged.push(line) } })(
    alert,
    signal,
  );

describe('the address of the alerts', () => {
  it('is posted five fields of JSON, and shown the token', async () => {
    expect(await post()).toBe(true);
    expect(calls).toHaveLength(1);
    expect(calls[0]).toMatchObject({
      method: 'POST',
      path: '/hook',
      headers: { authorization: 'Bearer a-secret-of-theirs', 'content-type': 'application/json' },
    });
    expect(JSON.parse(calls[0]!.body)).toEqual({
      at: '2030-03-04T08:00:00.000Z',
      what: 'disk-low',
      state: 'begun',
      since: '2030-03-04T07:59:59.000Z',
      text: 'The disk is nearly full.',
    });
  });

  it('without a token is shown none', async () => {
    expect(await post({ token: null })).toBe(true);
    expect(calls[0]?.headers.authorization).toBeUndefined();
  });

  it.each([302, 400, 401, 500])('that answers %i took nothing, and nobody else is shown the token', async (answer) => {
    status = answer;
    expect(await post()).toBe(false);
    expect(calls.map(({ path }) => path)).toEqual(['/hook']);
    expect(logged).toEqual([['warn', 'alert-not-taken', { kind: 'disk-low', code: answer }]]);
  });

  it('that is not there took nothing; the log says why and never where', async () => {
    server.close();
    expect(await post()).toBe(false);
    expect(logged).toEqual([['warn', 'alert-not-taken', { kind: 'disk-low', code: 'ECONNREFUSED' }]]);
  });

  it('that hangs is let go when the line ends, without a word', async () => {
    status = 0;
    const ending = new AbortController();
    const posted = post({}, ending.signal);
    await expect.poll(() => calls.length).toBe(1);
    ending.abort();
    expect(await posted).toBe(false);
    expect(logged).toEqual([]);
  });
});
