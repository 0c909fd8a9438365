/** Plays scripts over the whole line: same handling, outbox and pumps as the real channels, with a clock of its own. */
import { findExpected, withCaptured } from '../channels/play/expectation.ts';
import { PlayNetwork } from '../channels/play/network.ts';
import { type PlayChannel, playChannels, type ScriptLine } from '../channels/play/script.ts';
import { assertNever } from '../clinical/assert-never.ts';
import type { Content } from '../content/load.ts';
import { dueAtOf } from '../conversation/duties.ts';
import type { ShownAsk } from '../conversation/effect.ts';
import type { Registry } from '../conversation/moment.ts';
import { drawFrom } from '../conversation/random.ts';
import type { Address, Person } from '../conversation/world.ts';
import { Line } from '../line/line.ts';
import type { Clock, Log, OutboundMessage, Random, Store } from '../line/ports.ts';
import { withOlderFlows } from './flow-versions.ts';

/** One message as `--json` prints it. */
export interface PlayedMessage {
  readonly at: string;
  readonly phone: string;
  readonly dir: 'in' | 'out';
  readonly text: string;
  readonly segments: number;
  readonly encoding: 'GSM-7' | 'UCS-2';
  readonly flow: string;
  readonly step: string;
  readonly case: string | null;
  readonly ask:
    | (Omit<ShownAsk, 'token' | 'options'> & {
        readonly options: readonly { readonly reply: string; readonly id: string }[];
      })
    | null;
}

export type Played =
  | { readonly kind: 'message'; readonly message: PlayedMessage }
  | { readonly kind: 'failed'; readonly failed: string; readonly line: number }
  | { readonly kind: 'error'; readonly line: number; readonly expected: string };

interface Phone {
  readonly name: string;
  readonly address: Address;
  readonly log: PlayedMessage[];
  /** Messages before this index were received before the last acting line. */
  seen: number;
  last: PlayedText | null;
}

/** A text of a phone as it is delivered. */
interface PlayedText {
  readonly id: string;
  readonly text: string;
  readonly networkAt: number;
  readonly pauseMs: number;
}

/** What a phone's texts are taken to be apart, for its clock stands still between lines: one that a person types, and a twin. */
const pauseMs = { text: 30_000, twin: 3_000 } as const;

export interface PlayerOptions {
  readonly content: Content;
  readonly registry: Registry;
  readonly log: Log;
  /** Opens the store; called again after a `crash` while the first is still open. */
  readonly open: (dueAt: (of: Parameters<typeof dueAtOf>[1]) => number | null) => Promise<Store>;
  readonly countSegments: (text: string) => { segments: number; encoding: 'GSM-7' | 'UCS-2' };
  readonly emit: (played: Played) => void;
}

/** Characters that a network of a play takes at once; 0 = as many segments as the text has. */
const longestText: Readonly<Record<PlayChannel, number>> = { sms: 0, telegram: 4096 };

const playStart = Date.parse('2030-03-04T08:00:00Z');

/** A clock that goes only where the script sends it, never back. */
class PlayClock implements Clock {
  at = playStart;
  now(): number {
    return this.at;
  }
}

export class Player {
  private readonly options: PlayerOptions;
  private readonly clock = new PlayClock();
  private readonly network: PlayNetwork;
  private readonly phones = new Map<string, Phone>();
  private readonly captured: Record<string, string> = {};
  private readonly stores: Store[] = [];
  private random: Random = seededRandom(1);
  private line: Line | null = null;
  private lineNumber = 0;
  private sent = 0;
  private doctors = 0;
  private started = false;
  exitCode = 0;

  constructor(options: PlayerOptions) {
    this.options = options;
    this.network = new PlayNetwork((message) => this.arrive(message));
  }

  /** Instant of the script. */
  get now(): number {
    return this.clock.at;
  }

  /** The store under play, for checks of the history. */
  async store(): Promise<Store> {
    return (await this.open()).store;
  }

  private async open(): Promise<Line> {
    if (this.line) return this.line;
    const { content, registry, log } = this.options;
    const store = await this.options.open((of) => dueAtOf(content.programme, of));
    this.stores.push(store);
    await store.recoverOutbox(this.clock.at);
    this.line = new Line({
      store,
      content: await withOlderFlows(content, registry, store, log, this.clock.at),
      registry,
      log,
      clock: this.clock,
      random: this.random,
      channels: new Map(playChannels.map((name) => [name, this.network.channel(name, longestText[name])])),
    });
    if (this.sent === 0) this.sent = (await store.messages({})).length;
    return this.line;
  }

  /** Plays one line of a script and all that it causes. */
  async play(line: ScriptLine): Promise<void> {
    this.lineNumber += 1;
    switch (line.kind) {
      case 'nothing':
        return;
      case 'bad':
        this.fault(line.expected);
        return;
      case 'at':
        if (this.started || line.at < 0) this.fault('at ISO before anything else, once');
        else this.clock.at = line.at;
        return;
      case 'seed':
        if (this.line) this.fault('seed N before anything else');
        else this.random = seededRandom(line.seed);
        return;
      case 'phone':
        this.started = true;
        await this.addPhone(line);
        return;
      case 'expect':
        this.expect(line);
        return;
      case 'net':
        await this.withPhone(line.name, async (phone) => {
          this.acting();
          if (line.up) await this.network.setUp(phone.address.address);
          else this.network.setDown(phone.address.address);
          await (await this.open()).settle();
        });
        return;
      case 'crash':
        this.acting();
        // Nothing is closed in order: the old store keeps its handle until the end, as a killed process' files stay.
        this.line = null;
        await (await this.open()).settle();
        return;
      case 'wait':
        this.acting();
        await this.wait(line.ms);
        return;
      case 'again':
      case 'twin':
        await this.withPhone(line.name, async (phone) => {
          if (!phone.last) {
            this.fault(`${line.kind} after a text of that phone`);
            return;
          }
          this.acting();
          if (line.kind === 'again') await this.deliver(phone, phone.last);
          else await this.deliver(phone, { ...phone.last, id: this.nextId(), pauseMs: pauseMs.twin });
        });
        return;
      case 'send':
        await this.withPhone(line.name, async (phone) => {
          this.acting();
          const message = {
            id: this.nextId(),
            text: withCaptured(line.text, this.captured),
            networkAt: this.clock.at - line.agoMs,
            pauseMs: pauseMs.text,
          };
          if (!line.forged) phone.last = message;
          await this.deliver(phone, message);
        });
        return;
      default:
        assertNever(line);
    }
  }

  private nextId(): string {
    this.sent += 1;
    return `play:${this.sent}:${this.clock.at}`;
  }

  private async deliver(phone: Phone, message: PlayedText): Promise<void> {
    const line = await this.open();
    const { segments, encoding } = this.options.countSegments(message.text);
    const before = [...phone.log].reverse().find((one) => one.dir === 'out');
    this.note(phone, {
      at: new Date(this.clock.at).toISOString(),
      phone: phone.name,
      dir: 'in',
      text: message.text,
      segments,
      encoding,
      flow: before?.flow ?? '-',
      step: before?.step ?? '-',
      case: before?.case ?? null,
      ask: null,
    });
    await this.network.carry(phone.address.address, async () => {
      const { id, text, networkAt, pauseMs: pause } = message;
      const handled = await line.hearText(phone.address, id, text, networkAt, [], null, pause);
      if (handled === 'failed' || handled === 'parked') this.fail(`the line could not handle this text (${handled})`);
    });
    await line.settle();
  }

  /** From due instant to due instant, each settled before the next. */
  private async wait(ms: number): Promise<void> {
    const line = await this.open();
    const until = this.clock.at + ms;
    for (;;) {
      const next = await line.settle();
      if (next === null || next > until) break;
      this.clock.at = Math.max(this.clock.at + 1, next);
    }
    this.clock.at = until;
    await line.settle();
  }

  private async addPhone(line: ScriptLine & { kind: 'phone' }): Promise<void> {
    const address: Address = { channel: line.channel, address: line.address };
    const store = (await this.open()).store;
    const programme = this.options.content.programme;
    if (line.roles.length > 0) {
      if (line.roles.includes('doctor')) this.doctors += 1;
      const home = programme.sites[0]!;
      const site = line.site ?? (line.roles.includes('lab') ? home.labId : home.id);
      const person: Person = {
        id: `person-${line.name}`,
        programmeId: programme.id,
        name: line.name,
        roles: line.roles,
        siteId: site,
        locale: line.locale,
        addresses: [address],
        rank: line.roles.includes('doctor') ? this.doctors : 0,
        state: 'joined',
        practised: true,
        shared: false,
      };
      const roster = await store.roster(programme.id);
      const known = roster.some((one) => one.id === person.id);
      const isTaken = roster.some((one) =>
        one.addresses.some((at) => at.channel === address.channel && at.address === address.address),
      );
      if (!known && isTaken) {
        this.fault('an address that no other phone of the roster has');
        return;
      }
      if (!known) await store.putPeople([person]);
    }
    this.phones.set(line.name, { name: line.name, address, log: [], seen: 0, last: null });
  }

  private async arrive(message: OutboundMessage): Promise<void> {
    const phone = [...this.phones.values()].find(
      (one) => one.address.address === message.to.address && one.address.channel === message.to.channel,
    );
    if (phone) {
      this.note(phone, {
        at: new Date(this.clock.at).toISOString(),
        phone: phone.name,
        dir: 'out',
        text: message.text,
        segments: message.segments,
        encoding: message.encoding,
        flow: message.flow,
        step: message.step,
        case: message.code,
        ask: message.ask
          ? {
              field: message.ask.field,
              item: message.ask.item,
              kind: message.ask.kind,
              options: message.ask.options.map(({ reply, id }) => ({ reply, id })),
              ...(message.ask.exits === undefined ? {} : { exits: message.ask.exits }),
            }
          : null,
      });
    }
    await (await this.open()).store.report(message.id, 'delivered', this.clock.at);
  }

  private note(phone: Phone, message: PlayedMessage): void {
    phone.log.push(message);
    this.options.emit({ kind: 'message', message });
  }

  private acting(): void {
    this.started = true;
    for (const phone of this.phones.values()) phone.seen = phone.log.length;
  }

  private expect(line: ScriptLine & { kind: 'expect' }): void {
    const phone = this.phones.get(line.name);
    if (!phone) {
      this.fault(`a phone called ${line.name}`);
      return;
    }
    const heard = phone.log.slice(phone.seen).filter((one) => one.dir === 'out');
    const pattern = withCaptured(line.pattern, this.captured);
    const { met, groups } = findExpected(
      pattern,
      heard.map((one) => one.text),
    );
    if (met === null) {
      this.fault('a regular expression between slashes');
      return;
    }
    Object.assign(this.captured, groups);
    if (met === line.wanted) return;
    const got = heard.map((one) => one.text).join(' | ') || 'nothing';
    this.fail(`${line.name} ${line.wanted ? 'did not receive' : 'received'}: ${pattern}; got: ${got}`);
  }

  private async withPhone(name: string, use: (phone: Phone) => Promise<void>): Promise<void> {
    const phone = this.phones.get(name);
    if (phone) await use(phone);
    else this.fault(`a phone called ${name}`);
  }

  private fail(failed: string): void {
    this.exitCode = Math.max(this.exitCode, 1);
    this.options.emit({ kind: 'failed', failed, line: this.lineNumber });
  }

  private fault(expected: string): void {
    this.exitCode = 2;
    this.options.emit({ kind: 'error', line: this.lineNumber, expected });
  }

  async close(): Promise<void> {
    for (const store of this.stores) await store.close();
  }
}

/** Bytes that are the same for the same seed: for scripts only, never for a real line. */
export function seededRandom(seed: number): Random {
  const bytes = new Uint8Array(16);
  for (let i = 0; i < 4; i += 1) bytes[i] = (seed >>> (8 * i)) & 255;
  const draw = drawFrom(bytes);
  return { bytes: (count) => Uint8Array.from({ length: count }, () => draw.below(256)) };
}
