import { randomBytes } from 'node:crypto';
import { existsSync, mkdtempSync, rmSync } from 'node:fs';
import { request } from 'node:http';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { BenchChannel } from '../../../src/channels/bench/channel.ts';
import { BenchClock, firstMorning } from '../../../src/channels/bench/clock.ts';
import { type BenchLine, type BenchOptions, startBench } from '../../../src/channels/bench/server.ts';
import { benchWordsOf } from '../../../src/content/bench-words.ts';
import { packageRoot } from '../../../src/content/load.ts';
import { loadTraining } from '../../../src/content/scenarios.ts';
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
  readonly urgency: 'now' | 'today' | 'plain';
}

export interface Question {
  readonly caseId: string | null;
  readonly tag: string;
  readonly title: string;
  readonly several: boolean;
  readonly choices: readonly { readonly reply: string; readonly label: string }[];
}

export interface State {
  readonly now: number;
  readonly zone: string;
  readonly next: { readonly at: number; readonly what: string } | null;
  readonly words: Readonly<Record<string, string>>;
  readonly price: { readonly currency: string; readonly perSegmentOut: number; readonly perSegmentIn: number } | null;
  readonly people: readonly {
    readonly id: string;
    readonly name: string;
    readonly address: string;
    readonly number: string;
    readonly net: boolean;
    readonly texts: readonly Text[];
    readonly questions: readonly Question[];
    readonly cost: Readonly<Record<'sentTexts' | 'sentSegments' | 'gotTexts' | 'gotSegments', number>>;
  }[];
}

export interface Answer {
  readonly status: number;
  readonly headers: Readonly<Record<string, string | string[] | undefined>>;
  readonly body: string;
  readonly json: Readonly<Record<string, unknown>>;
}

export type ServedBench = Awaited<ReturnType<typeof serveBench>>;
export type OpenBench = Awaited<ReturnType<typeof openBench>>;

/** A folder for one test's data. */
export function dataFolder(): { readonly path: string; remove(): void } {
  const path = mkdtempSync(join(tmpdir(), 'neckline-bench-'));
  return { path, remove: () => rmSync(path, { recursive: true, force: true }) };
}

/** The whole line with its bench on a free port, over the database of a folder. */
export async function openBench(folder: string) {
  const log = { write: () => undefined };
  const file = join(folder, 'neckline.db');
  const isFresh = !existsSync(file);
  const store = await openStore({
    url: `sqlite:${file}`,
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
  // Whatever the hour of the test, the clinic's is the morning: at night doctors are not asked what can wait.
  if (isFresh) clock.moveTo(firstMorning(clock.now(), content.programme.zone));
  const channel = new BenchChannel((id, at) => store.report(id, 'delivered', at), clock);
  const random = { bytes: (count: number) => randomBytes(count) };
  const channels = new Map([[channel.name, channel]]);
  const line = new Line({ store, content, registry, clock, log, random, channels });
  const served = await serveBench(
    {
      line,
      clock,
      channel,
      nudge: () => undefined,
      health: () => healthOf({ store, clock, links: new Map(), database: null }),
    },
    {
      close: async () => {
        await line.idle();
        await store.close();
      },
    },
  );
  return { ...served, line, store, clock };
}

/** A line behind the page of the bench, on a free port. `close`: what is to be ended behind it. */
export async function serveBench(
  on: BenchLine,
  { renew, close }: Pick<BenchOptions, 'renew'> & { close(): Promise<void> },
) {
  let { line } = on;
  const bench = await startBench({
    ...on,
    port: 0,
    log: { write: () => undefined },
    pageFolder: join(packageRoot, 'dist', 'bench'),
    words: benchWordsOf(packageRoot, 'en'),
    language: 'en',
    training: loadTraining(content),
    ...(renew
      ? {
          renew: async () => {
            const fresh = await renew();
            line = fresh.line;
            return fresh;
          },
        }
      : {}),
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
    call,
    post,
    state,
    /** Until nothing is left for this instant. */
    settle: async (): Promise<void> => {
      await line.settle();
    },
    /** A text from a phone, and all that it causes. */
    say: async (who: string, text: string): Promise<Answer> => {
      const answer = await post('/send', { address: `bench:${who}`, text });
      await line.settle();
      return answer;
    },
    questionsOf: async (who: string): Promise<readonly Question[]> =>
      (await state()).people.find((one) => one.address === `bench:${who}`)!.questions,
    textsOf: async (who: string): Promise<readonly Text[]> =>
      (await state()).people.find((one) => one.address === `bench:${who}`)!.texts,
    close: async (): Promise<void> => {
      await bench.close();
      await close();
    },
  };
}

/** Opens the stream of the bench; what it gives then resolves when so many events of a kind came, or one that is enough. */
export function eventsOf(
  bench: ServedBench,
  kind: string,
  enough: number | ((told: Readonly<Record<string, unknown>>) => boolean),
): Promise<() => Promise<readonly Record<string, unknown>[]>> {
  return new Promise((opened, failed) => {
    const sent = request(new URL('/events', bench.url), (response) => {
      const came = new Promise<readonly Record<string, unknown>[]>((resolve) => {
        let read = '';
        response.setEncoding('utf8');
        response.on('data', (part: string) => {
          read += part;
          const found = [...read.matchAll(/event: (\w+)\ndata: (.*)\n\n/g)]
            .filter((one) => one[1] === kind)
            .map((one) => JSON.parse(one[2]!) as Record<string, unknown>);
          if (typeof enough === 'number' ? found.length < enough : !found.some(enough)) return;
          sent.destroy();
          resolve(found);
        });
      });
      opened(() => came);
    });
    sent.on('error', failed);
    sent.end();
  });
}
