import { request } from 'node:http';
import { afterEach, describe, expect, it } from 'vitest';
import { type HttpServer, startHttp } from '../../src/cli/http-server.ts';

describe('/health', () => {
  let server: HttpServer;
  afterEach(() => server.close());

  /** Status of a call from an address of this machine. */
  const statusFrom = (address: string, headers: Readonly<Record<string, string>> = {}): Promise<number> =>
    new Promise((resolve, reject) => {
      const { port } = new URL(server.url);
      request(
        { host: '127.0.0.1', port, path: '/health', localAddress: address, agent: false, headers },
        (response) => {
          response.resume();
          resolve(response.statusCode ?? 0);
        },
      )
        .once('error', reject)
        .end();
    });

  it('answers whoever asks from this machine, and nobody else', async () => {
    const health = async () => ({ ok: true });
    server = await startHttp({ host: '0.0.0.0', port: 0, doors: [], health, log: { write: () => undefined } });
    expect(await statusFrom('127.0.0.1')).toBe(200);
    // Another address than the loopback one, as a network's would be.
    expect(await statusFrom('127.0.0.9')).toBe(404);
  });

  it.each([
    ['x-forwarded-for', '203.0.113.9'],
    ['forwarded', 'for=203.0.113.9'],
    ['via', '1.1 proxy'],
    ['x-real-ip', '203.0.113.9'],
    ['host', 'line.example'],
    ['host', '10.0.0.4:8099'],
  ])('answers nobody for whom a proxy of this machine speaks: %s %s', async (name, value) => {
    const health = async () => ({ ok: true });
    server = await startHttp({ host: '127.0.0.1', port: 0, doors: [], health, log: { write: () => undefined } });
    expect(await statusFrom('127.0.0.1', { [name]: value })).toBe(404);
    for (const host of ['127.0.0.1', 'localhost:8099', '[::1]:8099'])
      expect(await statusFrom('127.0.0.1', { host })).toBe(200);
  });
});
