import { request } from 'node:http';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { dataFolder, type OpenBench, openBench } from './bench-fixture.ts';

let folder: ReturnType<typeof dataFolder>;
let bench: OpenBench;
let port: string;
beforeAll(async () => {
  folder = dataFolder();
  bench = await openBench(folder.path);
  port = new URL(bench.url).port;
});
afterAll(async () => {
  await bench.close();
  folder.remove();
});

const text = { address: 'bench:worker', text: 'LIST' };

describe('door of the phone bench', () => {
  it('listens on this machine only', () => {
    expect(new URL(bench.url).hostname).toBe('127.0.0.1');
  });

  it.each([['attacker.example'], ['127.0.0.1.attacker.example'], ['192.168.1.7'], ['0.0.0.0']])(
    'answers nobody who calls it %j: a name that was made to point here',
    async (host) => {
      for (const path of ['/', '/state', '/events', '/page.js']) {
        expect((await bench.call('GET', path, { host })).status).toBe(403);
      }
      expect((await bench.post('/send', text, { host })).status).toBe(403);
    },
  );

  it.each(['x-forwarded-for', 'forwarded', 'via', 'x-real-ip'])(
    'answers nobody for whom a proxy of this machine speaks: %s',
    async (name) => {
      expect((await bench.call('GET', '/state', { [name]: '203.0.113.9' })).status).toBe(403);
      expect((await bench.post('/send', text, { [name]: '203.0.113.9' })).status).toBe(403);
    },
  );

  it('takes no act from the page of another origin', async () => {
    for (const origin of ['https://attacker.example', 'http://127.0.0.1:1', 'http://localhost', 'null']) {
      expect((await bench.post('/send', text, { origin })).status).toBe(403);
      expect((await bench.post('/clock', { ms: 1000 }, { origin })).status).toBe(403);
      expect((await bench.post('/reset', {}, { origin })).status).toBe(403);
      expect((await bench.call('GET', '/state', { origin })).status).toBe(403);
    }
    for (const site of ['cross-site', 'same-site']) {
      expect((await bench.post('/send', text, { 'sec-fetch-site': site })).status).toBe(403);
      expect((await bench.call('GET', '/state', { 'sec-fetch-site': site })).status).toBe(403);
    }
    expect(await bench.textsOf('worker')).toEqual([]);
  });

  it('takes acts from its own page, and a link to it may be followed', async () => {
    for (const host of [`127.0.0.1:${port}`, `localhost:${port}`]) {
      const headers = { host, origin: `http://${host}`, 'sec-fetch-site': 'same-origin' };
      expect((await bench.post('/send', text, headers)).status).toBe(200);
    }
    const link = { 'sec-fetch-site': 'cross-site', 'sec-fetch-mode': 'navigate' };
    expect((await bench.call('GET', '/', link)).status).toBe(200);
  });

  it('lets no other page read or frame it', async () => {
    for (const path of ['/', '/page.js', '/page.css', '/count.js', '/state', '/nothing']) {
      const { headers } = await bench.call('GET', path);
      expect(headers['access-control-allow-origin']).toBeUndefined();
      expect(headers['content-security-policy']).toContain("default-src 'none'");
      expect(headers['content-security-policy']).toContain("frame-ancestors 'none'");
      expect(headers['content-security-policy']).not.toContain('unsafe');
      expect(headers['x-content-type-options']).toBe('nosniff');
      expect(headers['cache-control']).toBe('no-store');
    }
  });

  it('answers a body that is too long with 413, even when it was announced in no header', async () => {
    const long = await bench.post('/send', { ...text, text: 'x'.repeat(100_000) });
    expect(long.status).toBe(413);
    const status = await new Promise((resolve, reject) => {
      const sent = request(new URL('/send', bench.url), { method: 'POST' }, (response) => resolve(response.statusCode));
      sent.on('error', reject);
      for (let part = 0; part < 5; part += 1) sent.write('x'.repeat(20_000));
      sent.end();
    });
    expect(status).toBe(413);
  });

  it.each([
    ['no JSON', '/send', 'hello', 'application/json', 400],
    ['a list', '/send', '[]', 'application/json', 400],
    ['a form of another page', '/send', '{"address":"bench:worker","text":"x"}', 'text/plain', 415],
    ['no phone', '/send', '{"text":"x"}', 'application/json', 400],
    ['a phone outside', '/send', '{"address":"+0005550100","text":"x"}', 'application/json', 400],
    ['no text', '/send', '{"address":"bench:worker"}', 'application/json', 400],
    ['no such act', '/roster', '{}', 'application/json', 404],
  ])('refuses %s', async (_what, path, body, type, status) => {
    const answer = await bench.call('POST', path, { 'content-type': type }, body);
    expect([answer.status, typeof answer.json.error]).toEqual([status, 'string']);
  });

  it('knows GET and POST and no path of an object', async () => {
    expect((await bench.call('DELETE', '/')).status).toBe(405);
    for (const path of ['/constructor', '/__proto__', '/%00', '/../etc']) {
      expect((await bench.call('GET', path)).status).toBe(404);
    }
  });
});
