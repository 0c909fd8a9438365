import { randomBytes } from 'node:crypto';
import { mkdtempSync, rmSync } from 'node:fs';
import { request } from 'node:http';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { BenchChannel } from '../../../src/channels/bench/channel.ts';
import { BenchClock } from '../../../src/channels/bench/clock.ts';
import { startBench } from '../../../src/channels/bench/server.ts';
import { dueAtOf } from '../../../src/conversation/duties.ts';
import { registry } from '../../../src/conversation/matters.ts';
import type { Person, Role } from '../../../src/conversation/world.ts';
import { Line } from '../../../src/line/line.ts';
import { healthOf } from '../../../src/observe/health.ts';
import { openKeyRing } from '../../../src/store/keys.ts';
import { openStore } from '../../../src/store/open.ts';
import { shipped as content } from '../../support/shipped.ts';

export interface Text {
  readonly id: string;
  readonly out: boolean;
  readonly at: number;
  readonly text: string;
  readonly held: boolean;
}

export interface State {
  readonly now: number;
  readonly zone: string;
  readonly people: readonly {
    readonly name: string;
    readonly address: string;
    readonly net: boolean;
    readonly texts: readonly Text[];
    readonly options: readonly { readonly reply: string; readonly label: string }[];
  }[];
}

export interface Answer {
  readonly status: number;
  readonly headers: Readonly<Record<string, string | string[] | undefined>>;
  readonly body: string;
  readonly json: Readonly<Record<string, unknown>>;
}

export type OpenBench = Awaited<ReturnType<typeof openBench>>;

/** A folder for one test's data. */
export function dataFolder(): { readonly path: string; remove(): void } {
  const path = mkdtempSync(join(tmpdir(), 'neckline-bench-'));
  return { path, remove: () => rmSync(path, { recursive: true, force: true }) };
}

/** The whole line with its bench on a free port, over the database of a folder. */
export async function openBench(folder: string) {
  const log = { write: () => undefined };
  const store = await openStore({
    url: `sqlite:${join(folder, 'neckline.db')}`,
    keys: openKeyRing(join(folder, 'neckline.key')),
    dueAtOf: (of) => dueAtOf(content.programme, of),
  });
  const site = content.programme.sites[0]!;
  const person = (id: string, role: Role, rank = 0): Person => ({
    id,
    programmeId: content.programme.id,
    name: id,
    roles: [role],
    siteId: role === 'lab' ? site.labId : site.id,
    locale: 'en',
    addresses: [{ channel: 'bench', address: `bench:${id}` }],
    rank,
    state: 'joined',
    practised: true,
    shared: false,
  });
  await store.putPeople([
    person('worker', 'worker'),
    person('doctor', 'doctor', 1),
    person('another-doctor', 'doctor', 2),
    person('lab', 'lab'),
    person('coordinator', 'coordinator'),
  ]);
  const clock = new BenchClock(join(folder, 'demo', 'clock.json'));
  const channel = new BenchChannel((id, at) => store.report(id, 'delivered', at), clock);
  const random = { bytes: (count: number) => randomBytes(count) };
  const channels = new Map([[channel.name, channel]]);
  const line = new Line({ store, content, registry, clock, log, random, channels });
  const bench = await startBench({
    port: 0,
    line,
    clock,
    channel,
    nudge: () => undefined,
    log,
    programmeId: content.programme.id,
    zone: content.programme.zone,
    health: () => healthOf({ store, clock, links: new Map(), database: null }),
  });

  const call = (method: string, path: string, headers: Record<string, string> = {}, body = ''): Promise<Answer> =>
    new Promise((resolve, reject) => {
      const { hostname, port } = new URL(bench.url);
      const sent = request({ hostname, port, path, method, headers }, (response) => {
        let read = '';
        response.setEncoding('utf8');
        response.on('data', (part: string) => {
          read += part;
        });
        response.on('end', () => {
          const isJson = response.headers['content-type']?.startsWith('application/json');
          const json = isJson ? JSON.parse(read) : {};
          resolve({ status: response.statusCode!, headers: response.headers, body: read, json });
        });
      });
      sent.on('error', reject);
      sent.end(body);
    });
  const post = (path: string, body: unknown, headers: Record<string, string> = {}): Promise<Answer> =>
    call('POST', path, { 'content-type': 'application/json', ...headers }, JSON.stringify(body));
  const state = async (): Promise<State> => (await call('GET', '/state')).json as unknown as State;

  return {
    url: bench.url,
    line,
    store,
    clock,
    call,
    post,
    state,
    /** A text from a phone, and all that it causes. */
    say: async (who: string, text: string): Promise<Answer> => {
      const answer = await post('/send', { address: `bench:${who}`, text });
      await line.settle();
      return answer;
    },
    textsOf: async (who: string): Promise<readonly Text[]> =>
      (await state()).people.find((one) => one.address === `bench:${who}`)!.texts,
    close: async (): Promise<void> => {
      await bench.close();
      await line.idle();
      await store.close();
    },
  };
}

/** Reads the stream of the bench until `count` events of a kind came. */
export function eventsOf(bench: OpenBench, kind: string, count: number): Promise<readonly Record<string, unknown>[]> {
  return new Promise((resolve, reject) => {
    const sent = request(new URL('/events', bench.url), (response) => {
      let read = '';
      response.setEncoding('utf8');
      response.on('data', (part: string) => {
        read += part;
        const found = [...read.matchAll(/event: (\w+)\ndata: (.*)\n\n/g)].filter((one) => one[1] === kind);
        if (found.length < count) return;
        sent.destroy();
        resolve(found.map((one) => JSON.parse(one[2]!)));
      });
    });
    sent.on('error', reject);
    sent.end();
  });
}
