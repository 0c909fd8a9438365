/** The line itself: `line.hearText` over the shipped flows and a database file, people answering what they are asked. */
import { join } from 'node:path';
import { seededRandom } from '../../src/cli/player.ts';
import { dueAtOf } from '../../src/conversation/duties.ts';
import { registry } from '../../src/conversation/matters.ts';
import { Line } from '../../src/line/line.ts';
import type { Channel, OutboundMessage, SendResult } from '../../src/line/ports.ts';
import { keyRingOf } from '../../src/store/keys.ts';
import { openStore } from '../../src/store/open.ts';
import type { LineStore } from '../../src/store/store.ts';
import { contentWith, phoneOf, workersOf, writeProgramme } from './clinics.ts';
import type { Contestant } from './contestant.ts';
import type { Visit } from './visit.ts';
import { Worker } from './worker.ts';

/** Between two texts of one person, line ms. */
const turnMs = 1_000;
/** Monday 4 March 2030, 9:00 in the clinics: no morning text and no night falls into a run. */
const morning = Date.UTC(2030, 2, 4, 6);

/** What passed between a person and the line. */
export interface Passed {
  readonly text: string;
  readonly replies: readonly string[];
}

/** Time spent inside the store since it was opened, ms. */
export interface Spent {
  load: number;
  commit: number;
}

export class WholeLine implements Contestant {
  /** Counts on while texts are handled. */
  readonly spent: Spent = { load: 0, commit: 0 };
  readonly line: Line;
  private readonly workers: readonly Worker[];
  private readonly store: LineStore;
  private readonly heard = new Map<number, string[]>();
  /** Begins the ids of its texts: a database may be opened again. */
  private readonly run: number;
  private static runs = 0;
  private now = morning;
  private texts = 0;

  private constructor(store: LineStore, content: ReturnType<typeof contentWith>, visit: Visit, people: number) {
    this.store = store;
    WholeLine.runs += 1;
    this.run = WholeLine.runs;
    this.workers = Array.from({ length: people }, (_, number) => new Worker(number, visit));
    const byPhone = new Map(this.workers.map((_, number) => [phoneOf(number), number]));
    const sink: Channel = {
      name: 'sms',
      maxText: 0,
      buttons: false,
      images: false,
      reports: false,
      send: async (message): Promise<SendResult> => {
        const number = byPhone.get(message.to.address);
        if (number !== undefined) this.take(number, message);
        return { kind: 'sent' };
      },
    };
    this.line = new Line({
      store: this.timed(store),
      content,
      registry,
      clock: { now: () => this.now },
      random: seededRandom(1),
      log: { write: (level, event) => level === 'error' && fail(event) },
      channels: new Map([[sink.name, sink]]),
    });
  }

  /** A fresh database in `folder` with so many health workers, all on the same kind of visit. */
  static async open(folder: string, visit: Visit, people: number): Promise<WholeLine> {
    const content = contentWith(writeProgramme(folder, people));
    const store = await openStore({
      url: `sqlite:${join(folder, 'line.db')}`,
      keys: keyRingOf(new Uint8Array(32).fill(7)),
      dueAtOf: (of) => dueAtOf(content.programme, of),
    });
    await store.putPeople(workersOf(content.programme.id, people));
    return new WholeLine(store, content, visit, people);
  }

  async handle(people: readonly number[]): Promise<void> {
    this.now += turnMs;
    this.heard.clear();
    await Promise.all(people.map((number) => this.hear(number, this.workers[number]!.next())));
  }

  async send(): Promise<void> {
    await this.line.settle();
  }

  /** One whole visit of a person, text by text. */
  async visitOf(number: number, questions: number): Promise<readonly Passed[]> {
    const passed: Passed[] = [];
    for (let turn = 0; turn <= questions; turn += 1) {
      const text = this.workers[number]!.next();
      this.now += turnMs;
      this.heard.clear();
      await this.hear(number, text);
      await this.send();
      passed.push({ text, replies: this.heard.get(number) ?? [] });
    }
    return passed;
  }

  /** Closes the database. Its rows stay. */
  async close(): Promise<void> {
    await this.line.idle();
    await this.store.close();
  }

  private async hear(number: number, text: string): Promise<void> {
    this.texts += 1;
    const from = { channel: 'sms', address: phoneOf(number) };
    const handled = await this.line.hearText(from, `bench:${this.run}:${this.texts}`, text, this.now);
    if (handled !== 'done') throw new Error(`a text ended ${handled}`);
  }

  private take(number: number, message: OutboundMessage): void {
    this.workers[number]!.hear(message);
    this.heard.set(number, [...(this.heard.get(number) ?? []), message.text]);
  }

  private timed(store: LineStore): LineStore {
    const { spent } = this;
    const within = async <T>(part: keyof Spent, work: Promise<T>, begun: number): Promise<T> => {
      const done = await work;
      spent[part] += performance.now() - begun;
      return done;
    };
    return {
      ...store,
      load: (events, flows) => {
        const begun = performance.now();
        return within('load', store.load(events, flows), begun);
      },
      commit: (changes) => {
        const begun = performance.now();
        return within('commit', store.commit(changes), begun);
      },
    };
  }
}

function fail(event: string): never {
  throw new Error(`the line logged ${event}`);
}
