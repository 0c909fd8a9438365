import { request } from 'node:http';
import { afterEach, describe, expect, it } from 'vitest';
import { type HttpServer, startHttp } from '../../src/cli/http-server.ts';
import { metricsDoor } from '../../src/cli/metrics-door.ts';

const token = 'a-token-of-the-collector';
const log = { write: () => undefined };

describe('/metrics', () => {
  let server: HttpServer;
  afterEach(() => server.close());

  const open = async (shown: string | null, metrics = async () => 'figures 1\n') => {
    const door = metricsDoor({ metrics, token: shown, steady: () => 0, log });
    server = await startHttp({ host: '0.0.0.0', port: 0, doors: [door], health: async () => ({ ok: true }), log });
  };

  /** A call from an address of this machine: 127.0.0.9 is none of its own names, as a network's would be. */
  const call = (
    from: string,
    headers: Readonly<Record<string, string>> = {},
    { path = '/metrics', method = 'GET' } = {},
  ): Promise<{ status: number; type: string | undefined; body: string }> =>
    new Promise((resolve, reject) => {
      const { port } = new URL(server.url);
      const to = { host: '127.0.0.1', port, path, method, localAddress: from, agent: false, headers };
      request(to, (response) => {
        let body = '';
        response.setEncoding('utf8').on('data', (part: string) => {
          body += part;
        });
        response.on('end', () =>
          resolve({ status: response.statusCode ?? 0, type: response.headers['content-type'], body }),
        );
      })
        .once('error', reject)
        .end();
    });
  const bearer = (shown: string) => ({ authorization: `Bearer ${shown}` });

  it('answers a program of this machine in the format and its version, whatever else stands behind the path', async () => {
    await open(null);
    const whole = { status: 200, type: 'text/plain; version=0.0.4; charset=utf-8', body: 'figures 1\n' };
    expect(await call('127.0.0.1')).toEqual(whole);
    expect(await call('127.0.0.1', {}, { path: '/metrics?x=1' })).toEqual(whole);
    expect((await call('127.0.0.1', {}, { method: 'POST' })).status).toBe(404);
  });

  it('is not there for anybody else while no token is set, whatever they show', async () => {
    await open(null);
    expect((await call('127.0.0.9')).status).toBe(404);
    expect((await call('127.0.0.9', bearer('undefined'))).status).toBe(404);
    expect((await call('127.0.0.1', { 'x-forwarded-for': '203.0.113.9' })).status).toBe(404);
  });

  it('is answered to whoever shows the token, also through a proxy; /health is not', async () => {
    await open(token);
    expect((await call('127.0.0.9', bearer(token))).body).toBe('figures 1\n');
    expect((await call('127.0.0.1', { ...bearer(token), 'x-forwarded-for': '203.0.113.9' })).status).toBe(200);
    expect((await call('127.0.0.9', bearer(token), { path: '/health' })).status).toBe(404);
    expect((await call('127.0.0.9')).status).toBe(404);
  });

  it('guesses are refused, then too many; the right one passes all the same', async () => {
    await open(token);
    const found = [];
    for (let tries = 0; tries < 12; tries += 1) found.push((await call('127.0.0.9', bearer(`guess-${tries}`))).status);
    expect(found.slice(0, 10)).toEqual(Array(10).fill(403));
    expect(found.slice(10)).toEqual([429, 429]);
    expect((await call('127.0.0.9', bearer(token))).status).toBe(200);
  });

  it('that the store cannot answer is 503', async () => {
    await open(null, async () => {
      throw new Error('no store');
    });
    expect((await call('127.0.0.1')).status).toBe(503);
  });
});
