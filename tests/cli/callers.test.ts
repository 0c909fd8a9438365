import { request } from 'node:http';
import { connect, type Socket } from 'node:net';
import { afterEach, describe, expect, it } from 'vitest';
import { type Door, readBody } from '../../src/channels/http.ts';
import { type HttpServer, startHttp } from '../../src/cli/http-server.ts';

describe('callers who do not finish', () => {
  let server: HttpServer;
  const sockets: Socket[] = [];
  afterEach(async () => {
    for (const one of sockets.splice(0)) one.destroy();
    await server.close();
  });

  let stored: (() => void) | null = null;
  /** Reads a whole body; one that says `slow` is stored only when the test says so. */
  const door: Door = async (from, response) => {
    const { body } = await readBody(from, 1_000);
    if (body.includes('slow')) await new Promise<void>((resolve) => (stored = resolve));
    response.writeHead(200, { 'content-length': '0' }).end();
    return true;
  };
  const open = async (more: { readonly slowestMs?: number } = {}): Promise<number> => {
    const health = async () => ({ ok: true });
    const log = { write: () => undefined };
    server = await startHttp({ host: '127.0.0.1', port: 0, doors: [door], health, log, ...more });
    return Number(new URL(server.url).port);
  };
  /** Opens a connection and sends that much of a call. */
  const begin = (port: number, part: string): Promise<Socket> =>
    new Promise((resolve, reject) => {
      const socket = connect(port, '127.0.0.1', () => socket.write(part, () => resolve(socket)));
      sockets.push(socket);
      socket.once('error', reject);
      socket.on('error', () => undefined);
      socket.resume();
    });
  const half = 'POST /sms/in HTTP/1.1\r\nHost: x\r\nContent-Length: 100\r\n\r\nhalf';
  const isOpen = (one: Socket): boolean => !one.destroyed && one.readable;
  const call = (port: number, body: string): Promise<number> =>
    new Promise((resolve, reject) => {
      const sent = request({ host: '127.0.0.1', port, path: '/sms/in', method: 'POST', agent: false }, (response) => {
        response.resume();
        resolve(response.statusCode ?? 0);
      });
      sent.once('error', reject);
      sent.end(body);
    });

  it('stay few: of 200 those that wait longest are cut off, and a call that says all is answered', async () => {
    const port = await open();
    const calls: Socket[] = [];
    for (let count = 0; count < 200; count += 1) calls.push(await begin(port, half));
    for (let count = 0; count < 5; count += 1) expect(await call(port, 'whole')).toBe(200);
    await expect.poll(() => calls.filter(isOpen).length).toBeLessThanOrEqual(128);
    expect(calls.slice(-100).every(isOpen)).toBe(true);
  });

  it('push out nobody whose text is being stored', async () => {
    const port = await open();
    const storing = call(port, 'slow');
    await expect.poll(() => stored).not.toBeNull();
    for (let count = 0; count < 200; count += 1) await begin(port, half);
    stored?.();
    expect(await storing).toBe(200);
  });

  it.each([
    ['its head', 'POST /sms/in HTTP/1.1\r\nHost: x\r\n'],
    ['its body', half],
  ])('are cut off when they take too long over %s', async (_what, part) => {
    const port = await open({ slowestMs: 100 });
    const socket = await begin(port, part);
    await new Promise((resolve) => socket.once('close', resolve));
    expect(await call(port, 'whole')).toBe(200);
  });
});
