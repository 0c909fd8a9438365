import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import Database from 'better-sqlite3';
import { seededRandom } from '../../src/cli/player.ts';
import { loadContent } from '../../src/content/load.ts';
import { dueAtOf } from '../../src/conversation/duties.ts';
import { registry } from '../../src/conversation/matters.ts';
import type { Registry } from '../../src/conversation/moment.ts';
import type { Person } from '../../src/conversation/world.ts';
import type { Handled } from '../../src/line/handle.ts';
import { Line } from '../../src/line/line.ts';
import { Mender } from '../../src/line/mender.ts';
import { keyRingOf } from '../../src/store/keys.ts';
import { openStore } from '../../src/store/open.ts';
import type { LineStore } from '../../src/store/store.ts';
import { probe } from '../probe/probe.ts';
import { Link, person } from './links.ts';

const content = loadContent();

const quick = 'NEW AK 1982 F R 22x15x14 solid hypo irregular micro TSH normal felt linear signs 0 risks 0 bleeding 0';

/** A whole line on a file whose bytes a test may damage behind its back. */
export class DamagedLine {
  readonly people: readonly Person[];
  readonly logged: string[] = [];
  now = Date.UTC(2030, 2, 4, 8);
  store!: LineStore;
  private line!: Line;
  private link = new Link('sms', false, false);
  private readonly folder = mkdtempSync(join(tmpdir(), 'neckline-damaged-'));
  private readonly seen = new Map<string, number>();
  private count = 0;

  private constructor(people: readonly Person[]) {
    this.people = people;
  }

  /** Workers `w` and `v` of one clinic, doctors `d` and `e`, a laboratory `l`, coordinators `c` and `k`. */
  static async open(): Promise<DamagedLine> {
    const made = new DamagedLine([
      person('w', 'worker', ['sms']),
      person('v', 'worker', ['sms']),
      person('d', 'doctor', ['sms']),
      { ...person('e', 'doctor', ['sms']), rank: 2 },
      { ...person('l', 'lab', ['sms']), siteId: 'velin' },
      person('c', 'coordinator', ['sms']),
      person('k', 'coordinator', ['sms']),
    ]);
    await made.start();
    await made.store.putPeople(made.people);
    return made;
  }

  /** Opens the line, with other named pieces where a bug is wanted. */
  async start(pieces: Registry = registry): Promise<void> {
    this.store = await openStore({
      url: `sqlite:${this.file}`,
      keys: keyRingOf(new Uint8Array(32).fill(1)),
      dueAtOf: (of) => dueAtOf(content.programme, of),
      exclusive: false,
    });
    const log = {
      write: (level: string, event: string, fields = {}) => {
        this.logged.push(`${level} ${event} ${JSON.stringify(fields)}`);
      },
    };
    this.line = new Line({
      store: this.store,
      content,
      registry: pieces,
      clock: { now: () => this.now },
      random: seededRandom(1),
      log,
      channels: new Map([['sms', this.link]]),
    });
  }

  /** What of an SOS of everybody whose record opens is not heard, with the file as it is. */
  async sosUnheard(): Promise<readonly string[]> {
    const keys = keyRingOf(new Uint8Array(32).fill(1));
    return (await probe({ file: this.file, keys, content, at: this.now })).faults;
  }

  get file(): string {
    return join(this.folder, 'line.db');
  }

  /** The next start, as after a kill; what points to nothing is looked for, as the service does. */
  async restart(pieces: Registry = registry): Promise<void> {
    await this.store.close();
    await this.start(pieces);
    const log = { write: () => undefined };
    const mender = new Mender({ store: this.store, clock: { now: () => this.now }, log });
    while (await mender.next());
    await this.line.settle();
  }

  /** Changes rows behind the line's back, then starts it again. */
  async damage(sql: string, pieces: Registry = registry): Promise<void> {
    await this.store.close();
    const database = new Database(this.file);
    database.function('damaged', { deterministic: true }, (bytes: unknown) => {
      const copy = Buffer.from(bytes as Uint8Array);
      copy[copy.length - 1]! ^= 1;
      return copy;
    });
    database.exec(sql);
    database.close();
    await this.start(pieces);
  }

  /** Rows of a query, read beside the line. */
  rows(sql: string): readonly Record<string, unknown>[] {
    const database = new Database(this.file, { readonly: true });
    try {
      return database.prepare(sql).all() as Record<string, unknown>[];
    } finally {
      database.close();
    }
  }

  /** A text; everything that it causes happens. */
  async says(id: string, text: string, key?: string): Promise<Handled> {
    this.count += 1;
    this.now += 1000;
    const from = this.people.find((one) => one.id === id)?.addresses[0] ?? { channel: 'sms', address: id };
    const handled = await this.line.hearText(from, key ?? `test:${this.count}`, text, null);
    await this.line.settle();
    return handled;
  }

  async later(minutes: number): Promise<void> {
    this.now += minutes * 60_000;
    await this.line.settle();
  }

  /** What somebody got since the last look at them, by their number. */
  heard(id: string): readonly string[] {
    const address = this.people.find((one) => one.id === id)?.addresses[0]?.address ?? id;
    const all = this.link.asked.filter((one) => one.to.address === address).map((one) => one.text);
    const from = this.seen.get(id) ?? 0;
    this.seen.set(id, all.length);
    return all.slice(from);
  }

  /** Worker `w` has an open case with a code; gives it. */
  async coded(): Promise<string> {
    for (const text of [quick, 'OK', '1', '1357H', 'ALL', '50']) await this.says('w', text);
    const code = /CODE ([\d ]+)\. Write in pencil/.exec(this.heard('w').join('\n'))?.[1] ?? '';
    for (const one of this.people) this.heard(one.id);
    return code.replaceAll(' ', '');
  }

  async close(): Promise<void> {
    await this.store.close();
    rmSync(this.folder, { recursive: true, force: true });
  }
}
