import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { seededRandom } from '../../src/cli/player.ts';
import { loadContent } from '../../src/content/load.ts';
import { dueAtOf } from '../../src/conversation/duties.ts';
import { registry } from '../../src/conversation/matters.ts';
import type { Person, Role } from '../../src/conversation/world.ts';
import { Line, type LineOptions } from '../../src/line/line.ts';
import type { Channel, OutboundMessage, SendResult } from '../../src/line/ports.ts';
import { type Health, healthOf } from '../../src/observe/health.ts';
import { keyRingOf } from '../../src/store/keys.ts';
import { type OpenOptions, openStore } from '../../src/store/open.ts';
import type { LineStore } from '../../src/store/store.ts';
import { probe } from '../probe/probe.ts';

const content = loadContent();
export const programmeId = content.programme.id;
export const secondMs = 1_000;
export const hourMs = 3_600_000;

/** Somebody with one SMS phone. */
export function phoneOf(id: string, role: Role, number: number, other: Partial<Person> = {}): Person {
  return {
    id,
    programmeId,
    name: `Person ${id}`,
    roles: [role],
    siteId: role === 'lab' ? content.programme.sites[0]!.labId : content.programme.sites[0]!.id,
    locale: 'en',
    addresses: [{ channel: 'sms', address: `+00055501${String(number).padStart(4, '0')}` }],
    rank: 0,
    state: 'joined',
    practised: true,
    shared: false,
    ...other,
  };
}

/** An SMS gateway in the test's hand. */
export class Gateway implements Channel {
  readonly name = 'sms';
  readonly maxText = 0;
  readonly buttons = false;
  readonly images = false;
  readonly reports = true;
  readonly taken: OutboundMessage[] = [];
  /** Texts that it has got and not answered yet, oldest first. */
  readonly waiting: { readonly message: OutboundMessage; readonly answer: (result: SendResult) => void }[] = [];
  manner: 'take' | 'busy' | 'one-by-one' = 'take';

  send(message: OutboundMessage): Promise<SendResult> {
    if (this.manner === 'busy') return Promise.resolve({ kind: 'later', waitMs: 2 * secondMs, why: 'http-503' });
    if (this.manner === 'one-by-one') {
      return new Promise((answer) => {
        this.waiting.push({ message, answer });
      });
    }
    this.taken.push(message);
    return Promise.resolve({ kind: 'sent' });
  }

  /** Takes the oldest of what waits. False: nothing did. */
  takeOne(): boolean {
    const next = this.waiting.shift();
    if (!next) return false;
    this.taken.push(next.message);
    next.answer({ kind: 'sent' });
    return true;
  }
}

/** A whole line on a file, one SMS link, a clock and a steady clock of its own. */
export class QueueLine {
  now = Date.UTC(2030, 2, 4, 8);
  steady = 0;
  store!: LineStore;
  line!: Line;
  readonly logged: string[] = [];
  private readonly folder = mkdtempSync(join(tmpdir(), 'neckline-queue-'));
  private channel!: Channel;
  private heard = 0;

  get file(): string {
    return join(this.folder, 'line.db');
  }

  /** What of an SOS of everybody is not heard once networks and disk are well again. */
  async sosUnheard(): Promise<readonly string[]> {
    const keys = keyRingOf(new Uint8Array(32).fill(1));
    return (await probe({ file: this.file, keys, content, at: this.now })).faults;
  }

  /** Opens the line, again after a kill too: nothing of the one before is closed in order. */
  async open(
    channel: Channel,
    more: { store?: Partial<OpenOptions>; line?: Partial<LineOptions> } = {},
  ): Promise<void> {
    const log = { write: (_level: string, event: string) => void this.logged.push(event) };
    this.channel = channel;
    this.store = await openStore({
      url: `sqlite:${this.file}`,
      keys: keyRingOf(new Uint8Array(32).fill(1)),
      dueAtOf: (of) => dueAtOf(content.programme, of),
      exclusive: false,
      log,
      ...more.store,
    });
    await this.store.recoverOutbox(this.now);
    this.line = new Line({
      store: this.store,
      content,
      registry,
      clock: { now: () => this.now },
      steady: () => this.steady,
      random: seededRandom(1),
      log,
      channels: new Map([[channel.name, channel]]),
      ...more.line,
    });
  }

  /** A text of somebody comes in; nothing is sent yet. */
  hear(from: Person | string, text: string): Promise<string> {
    this.heard += 1;
    const address = typeof from === 'string' ? from : from.addresses[0]!.address;
    return this.line.hearText({ channel: 'sms', address }, `in-${this.heard}`, text, this.now);
  }

  /** Time passes, on both clocks. */
  pass(ms: number): void {
    this.now += ms;
    this.steady += ms;
  }

  /** From one instant to the next at which something is due or may go. */
  async run(ms: number): Promise<void> {
    const until = this.now + ms;
    for (;;) {
      const next = await this.line.settle();
      if (next === null || next > until) break;
      this.pass(Math.max(1, next - this.now));
    }
    this.pass(until - this.now);
    await this.line.settle();
  }

  health(): Promise<Health> {
    const links = new Map([[this.channel.name, () => this.line.watch.stateOf(this.channel.name)]]);
    const ways = () => this.channel.ways?.() ?? [];
    return healthOf({ store: this.store, clock: { now: () => this.now }, links, ways, database: null });
  }

  async close(): Promise<void> {
    await this.store.close();
    rmSync(this.folder, { recursive: true, force: true });
  }
}
