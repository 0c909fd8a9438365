/** Serves the phone bench on this machine only: the page, what happens while it is open, and what its parts answer. */
import { createServer, type IncomingMessage, type ServerResponse } from 'node:http';
import type { AddressInfo } from 'node:net';
import type { Line } from '../../line/line.ts';
import type { Log } from '../../line/ports.ts';
import { errorCode } from '../../text/error-code.ts';
import type { Words } from '../../text/say-word.ts';
import type { Training } from '../../training/scenario.ts';
import type { BenchChannel } from './channel.ts';
import type { BenchClock } from './clock.ts';
import { ClockPart } from './clock-part.ts';
import { DecisionPart } from './decision-part.ts';
import { isOurs, readObject, reply, safeHeaders, send } from './door.ts';
import { pageFiles } from './pages.ts';
import { type Answer, type BenchPart, ok, type Route, refused, type Tell } from './part.ts';
import { PhonesPart } from './phones-part.ts';
import { StatePart } from './state-part.ts';
import { CasesPart } from './strip/cases-part.ts';
import { TablePart } from './table-part.ts';
import { TrainingPart } from './training-part.ts';
import { sayFirst } from './words.ts';

/** The line that the phones are on, with all that goes when it begins anew. */
export interface BenchLine {
  readonly line: Line;
  readonly clock: BenchClock;
  readonly channel: BenchChannel;
  readonly nudge: () => void;
  /** What `/health` answers. */
  readonly health: () => Promise<{ readonly ok: boolean }>;
}

export interface BenchOptions extends BenchLine {
  /** 0 = any free port (tests). */
  readonly port: number;
  readonly log: Log;
  /** Where the files of the page are. */
  readonly pageFolder: string;
  readonly words: Words;
  /** Of the page, as its folder in `locales` is called. */
  readonly language: string;
  readonly training: Training;
  /** Ends the line that runs, empties its database, and gives the one that begins anew; absent = it cannot. */
  readonly renew?: () => Promise<BenchLine>;
}

export interface Bench {
  readonly url: string;
  /** Takes no more requests, leaves a moving clock at its next stop, and ends open streams. */
  close(): Promise<void>;
}

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

/** What each part adds; a part is one line here. */
function partsOf(
  on: BenchLine & Pick<BenchOptions, 'words' | 'language'>,
  training: TrainingPart,
  tell: Tell,
): readonly BenchPart[] {
  const [settle, ahead] = [() => training.settle(), () => training.ahead()];
  const cases = new CasesPart({ ...on, tell });
  return [
    training.attach(on),
    new PhonesPart({ ...on, tell }),
    cases,
    new ClockPart({ ...on, settle, tell }),
    new StatePart({
      ...on,
      ahead,
      tell,
      more: { cases: () => cases.strips(), scenario: async () => training.state() },
    }),
    new DecisionPart(on.line, on.clock, on.words, on.language),
    new TablePart(on.line, on.clock, on.language),
  ];
}

/** Told of these, parts look again at what they show. */
const happenings: ReadonlySet<string> = new Set(['text', 'clock', 'net', 'scenario']);

class Desk {
  private readonly options: BenchOptions;
  private readonly files: ReturnType<typeof pageFiles>;
  private readonly streams = new Set<ServerResponse>();
  /** Of all lines one after the other: a scenario begins with a new one. */
  private readonly training: TrainingPart;
  private on: BenchLine;
  private parts: readonly BenchPart[];
  /** Whoever asks meanwhile waits for it. */
  private renewing: Promise<void> | null = null;
  private ended = false;

  constructor(options: BenchOptions) {
    this.options = options;
    this.files = pageFiles(options.pageFolder, options.words, options.language);
    this.on = options;
    const { training, words } = options;
    const tell: Tell = (kind, what) => this.tell(kind, what);
    this.training = new TrainingPart({ training, words, tell, reset: async () => (await this.reset()).status === 200 });
    this.parts = this.partsOn(options);
  }

  private partsOn(on: BenchLine): readonly BenchPart[] {
    return partsOf({ ...on, words: this.options.words, language: this.options.language }, this.training, (kind, what) =>
      this.tell(kind, what),
    );
  }

  async end(): Promise<void> {
    this.ended = true;
    for (const stream of this.streams) stream.end();
    await this.renewing?.catch(() => undefined);
    await this.endParts();
  }

  private async endParts(): Promise<void> {
    for (const part of this.parts) await part.end?.();
  }

  /** Everything that anybody wrote goes, and the clock stands at the beginning again. */
  private async reset(): Promise<Answer> {
    const { renew, words } = this.options;
    if (!renew) return refused(409, sayFirst(words, ['page-reset-elsewhere']));
    // A second one meanwhile is the same one.
    this.renewing ??= this.begunAnew(renew).finally(() => {
      this.renewing = null;
    });
    await this.renewing;
    return ok({ now: this.on.clock.now() });
  }

  private async begunAnew(renew: () => Promise<BenchLine>): Promise<void> {
    await this.endParts();
    this.parts = [];
    this.on = await renew();
    this.parts = this.partsOn(this.on);
    this.tell('reset', { now: this.on.clock.now() });
  }

  async answer(request: IncomingMessage, response: ServerResponse): Promise<void> {
    if (!isOurs(request)) return reply(response, 403, { error: 'This page answers on this machine only.' });
    const { pathname: path, searchParams: query } = new URL(request.url ?? '/', 'http://bench');
    if (request.method === 'GET') return this.show(path, query, response);
    if (request.method !== 'POST') return reply(response, 405, { error: 'GET or POST.' });
    const body = await readObject(request);
    if (!body.ok) return reply(response, body.status, { error: body.error });
    if (this.ended) return reply(response, 503, { error: 'The line is closing.' });
    if (path === '/reset') {
      const { status, value } = await this.reset();
      return reply(response, status, value);
    }
    await this.renewing;
    const route = this.route('post', path);
    if (!route) return this.nothing(response);
    const { status, value } = await route({ query, body: body.value });
    return reply(response, status, value);
  }

  private async show(path: string, query: URLSearchParams, response: ServerResponse): Promise<void> {
    const file = this.files.get(path);
    if (file) return send(response, 200, file.type, file.body);
    await this.renewing;
    if (path === '/events') return this.stream(response);
    if (path === '/health') {
      const state = await this.on.health();
      return reply(response, state.ok ? 200 : 503, state);
    }
    if (path === '/favicon.ico') return send(response, 204, 'image/x-icon', '');
    const route = this.route('get', path);
    if (!route) return this.nothing(response);
    const { status, value } = await route({ query, body: {} });
    return reply(response, status, value);
  }

  private nothing(response: ServerResponse): void {
    if (this.parts.length > 0) reply(response, 404, { error: 'There is nothing here.' });
    else reply(response, 503, { error: sayFirst(this.options.words, ['page-reset-failed']) });
  }

  private route(method: 'get' | 'post', path: string): Route | undefined {
    const found = this.parts.find((part) => part[method] !== undefined && Object.hasOwn(part[method], path));
    return found?.[method]?.[path];
  }

  private stream(response: ServerResponse): void {
    if (this.ended) {
      reply(response, 503, { error: 'The line is closing.' });
      return;
    }
    response.writeHead(200, { ...safeHeaders, 'content-type': 'text/event-stream', connection: 'keep-alive' });
    response.write(`event: clock\ndata: ${JSON.stringify({ now: this.on.clock.now() })}\n\n`);
    this.streams.add(response);
    response.on('close', () => this.streams.delete(response));
  }

  private tell(kind: string, what: unknown): void {
    for (const one of this.streams) one.write(`event: ${kind}\ndata: ${JSON.stringify(what)}\n\n`);
    if (happenings.has(kind)) for (const part of this.parts) part.happened?.();
  }
}
