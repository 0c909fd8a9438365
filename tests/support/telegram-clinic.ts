import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { readLine, type ScriptLine } from '../../src/channels/play/script.ts';
import { openTelegram, type Telegram } from '../../src/channels/telegram/telegram.ts';
import { seededRandom } from '../../src/cli/player.ts';
import type { Content } from '../../src/content/load.ts';
import { dueAtOf } from '../../src/conversation/duties.ts';
import { registry } from '../../src/conversation/matters.ts';
import type { Person, Role } from '../../src/conversation/world.ts';
import { Line } from '../../src/line/line.ts';
import type { Channel, OutboundMessage, SendResult } from '../../src/line/ports.ts';
import { openKeyRing } from '../../src/store/keys.ts';
import { openStore } from '../../src/store/open.ts';
import type { LineStore } from '../../src/store/store.ts';
import { BotApiServer, type Shown } from './bot-api-server.ts';
import { shipped } from './shipped.ts';

export const token = '55:test-token-not-to-be-logged';

/** A plain phone beside Telegram. */
class PlainPhones implements Channel {
  readonly name = 'sms';
  readonly maxText = 0;
  readonly buttons = false;
  readonly images = false;
  readonly reports = false;
  readonly sent: OutboundMessage[] = [];
  async send(message: OutboundMessage): Promise<SendResult> {
    this.sent.push(message);
    return { kind: 'sent' };
  }
}

interface Phone {
  readonly channel: 'sms' | 'telegram';
  readonly address: string;
  seen: number;
}

/**
 * A whole line on a database file, with Telegram played by the loopback server. Plays the lines of a script; whoever is on
 * Telegram taps where there are buttons for the answer, and types where there are none.
 */
export class TelegramClinic {
  readonly server: BotApiServer;
  readonly logged: string[] = [];
  readonly phones = new Map<string, Phone>();
  /** Answers given by buttons and by typing. */
  readonly answered = { taps: 0, typed: 0 };
  /** Taps of any kind. */
  private touched = 0;
  telegram!: Telegram;
  line!: Line;
  store!: LineStore;
  at = Date.parse('2030-03-04T08:00:00Z');
  private readonly plain = new PlainPhones();
  private readonly captured: Record<string, string> = {};
  private readonly folder = mkdtempSync(join(tmpdir(), 'neckline-telegram-'));
  private readonly random = seededRandom(1);
  private texts = 0;
  private doctors = 0;

  private readonly content: Content;

  private constructor(server: BotApiServer, content: Content) {
    this.server = server;
    this.content = content;
    server.now = () => this.at;
  }

  static async open(content = shipped): Promise<TelegramClinic> {
    const clinic = new TelegramClinic(await BotApiServer.start(), content);
    await clinic.start();
    return clinic;
  }

  async start(): Promise<void> {
    this.store = await openStore({
      url: `sqlite:${join(this.folder, 'line.db')}`,
      keys: openKeyRing(join(this.folder, 'line.key')),
      dueAtOf: (of) => dueAtOf(this.content.programme, of),
      exclusive: false,
    });
    await this.store.recoverOutbox(this.at);
    const log = {
      write: (level: string, event: string, fields?: object) =>
        void this.logged.push(`${level} ${event} ${JSON.stringify(fields ?? {})}`),
    };
    const clock = { now: () => this.at };
    this.telegram = openTelegram({
      token,
      apiRoot: this.server.root,
      texts: this.content.texts,
      locales: ['en'],
      steady: () => this.at,
      log,
      pollSeconds: 1,
      callSeconds: 2,
      pauseMs: 20,
    });
    this.line = new Line({
      store: this.store,
      content: this.content,
      registry,
      clock,
      log,
      random: this.random,
      channels: new Map<string, Channel>([
        ['sms', this.plain],
        ['telegram', this.telegram.channel],
      ]),
    });
    this.telegram.listen(this.line);
  }

  /** The process ends and another one begins on the same file. */
  async restart(): Promise<void> {
    await this.telegram.stop();
    await this.store.close();
    await this.start();
  }

  async close(): Promise<void> {
    await this.telegram.stop();
    await this.store.close();
    await this.server.stop();
    rmSync(this.folder, { recursive: true, force: true });
  }

  /** Plays a script; throws at the first line that does not come true. `before` may do something at a line. */
  async play(script: string, before: (line: number) => Promise<void> | void = () => undefined): Promise<void> {
    for (const [index, raw] of script.split('\n').entries()) {
      const line = readLine(raw);
      if (line.kind === 'nothing') continue;
      await before(index + 1);
      try {
        await this.act(line);
      } catch (error) {
        throw new Error(`line ${index + 1}: ${raw}: ${error instanceof Error ? error.message : 'fault'}`);
      }
    }
  }

  /** All that is due and may be sent at this instant; what its network asked to send in a minute or less is waited for. */
  async settle(): Promise<void> {
    for (let rounds = 0; rounds < 200; rounds += 1) {
      await this.line.settle();
      const next = await this.store.nextOutboxAt();
      if (next === null || next > this.at + 61_000) return;
      this.at = Math.max(next, this.at);
    }
    throw new Error('texts never end');
  }

  private async act(line: ScriptLine): Promise<void> {
    switch (line.kind) {
      case 'phone':
        return this.addPhone(line);
      case 'send':
        this.acting();
        return this.say(line.name, this.insert(line.text));
      case 'expect':
        return this.expect(line);
      case 'wait':
        this.acting();
        return this.wait(line.ms);
      case 'crash':
        return this.restart();
      default:
        throw new Error(`cannot play ${line.kind}`);
    }
  }

  private async addPhone(line: ScriptLine & { kind: 'phone' }): Promise<void> {
    if (line.roles.includes('doctor')) this.doctors += 1;
    const home = this.content.programme.sites[0]!;
    const person: Person = {
      id: `person-${line.name}`,
      programmeId: this.content.programme.id,
      name: line.name,
      roles: line.roles as Role[],
      siteId: line.roles.includes('lab') ? home.labId : home.id,
      locale: line.locale,
      addresses: [{ channel: line.channel, address: line.address }],
      rank: line.roles.includes('doctor') ? this.doctors : 0,
      state: 'joined',
      practised: true,
      shared: false,
    };
    if (line.roles.length > 0) await this.store.putPeople([person]);
    this.phones.set(line.name, { channel: line.channel, address: line.address, seen: 0 });
  }

  private async say(name: string, text: string): Promise<void> {
    const phone = this.phones.get(name)!;
    if (phone.channel === 'sms') {
      this.texts += 1;
      await this.line.hearText({ channel: 'sms', address: phone.address }, `sms:${this.texts}`, text, this.at);
      return this.settle();
    }
    const user = Number(phone.address);
    const tapped = await this.tapInstead(user, text);
    if (!tapped) {
      this.answered.typed += 1;
      await this.server.taken(this.server.write(user, text));
    }
    await this.settle();
  }

  /** True: the last message has buttons for this answer, and they were tapped. */
  async tapInstead(user: number, text: string): Promise<boolean> {
    const last = this.server.shownTo(user).at(-1);
    if (!last?.markup) return false;
    const data = (): readonly string[] =>
      last.markup!.inline_keyboard.flat().map((one) => ('callback_data' in one ? one.callback_data : ''));
    const whole = data().find((one) => one.startsWith('a|') && one.endsWith(`|${text}`));
    if (whole) return this.tap(user, last, whole);
    const marks = [...text].map((digit) => `t|${digit}`);
    if (!marks.every((one) => data().includes(one))) return false;
    for (const one of marks) {
      const before = JSON.stringify(last.markup);
      this.touched += 1;
      await this.server.taken(this.server.tap(user, last, one));
      await this.marked(last, before);
    }
    return this.tap(user, last, data().at(-1)!);
  }

  private async tap(user: number, shown: Shown, data: string): Promise<true> {
    this.answered.taps += 1;
    this.touched += 1;
    await this.server.taken(this.server.tap(user, shown, data));
    return true;
  }

  /** A tap on one of several shows on the buttons a moment later. */
  private async marked(shown: Shown, before: string): Promise<void> {
    for (let tries = 0; tries < 400 && JSON.stringify(shown.markup) === before; tries += 1) {
      await new Promise((resolve) => setTimeout(resolve, 5));
    }
  }

  private async wait(ms: number): Promise<void> {
    const until = this.at + ms;
    for (;;) {
      const next = await this.line.settle();
      if (next === null || next > until) break;
      this.at = Math.max(this.at + 1, next);
    }
    this.at = Math.max(until, this.at);
    await this.settle();
  }

  /** Texts of a phone so far, oldest first. */
  heardBy(name: string): readonly string[] {
    const phone = this.phones.get(name)!;
    return phone.channel === 'telegram'
      ? this.server.shownTo(Number(phone.address)).map((one) => one.text)
      : this.plain.sent.filter((one) => one.to.address === phone.address).map((one) => one.text);
  }

  /** What the case cost so far: messages to people, answers by button and typed, bytes of the bodies. */
  async cost(): Promise<{ messages: number; taps: number; typed: number; bodyBytes: number }> {
    await this.server.called('answerCallbackQuery', this.touched);
    await this.server.called('editMessageReplyMarkup', this.touched);
    return { messages: this.server.chats.length, ...this.answered, bodyBytes: this.server.bodyBytes };
  }

  private acting(): void {
    for (const [name, phone] of this.phones) phone.seen = this.heardBy(name).length;
  }

  private expect(line: ScriptLine & { kind: 'expect' }): void {
    const heard = this.heardBy(line.name).slice(this.phones.get(line.name)!.seen);
    const pattern = this.insert(line.pattern);
    const body = /^\/(.*)\/([a-z]*)$/s.exec(pattern);
    const expression = body ? new RegExp(body[1]!, 'i') : null;
    let met = false;
    for (const text of heard) {
      const found = expression?.exec(text);
      if (found) Object.assign(this.captured, found.groups ?? {});
      if (found || (!expression && text.toLowerCase().includes(pattern.toLowerCase()))) met = true;
    }
    if (met !== line.wanted) throw new Error(`got: ${heard.join(' | ') || 'nothing'}`);
  }

  private insert(text: string): string {
    return text.replace(/\{(\w+)\}/g, (all, name: string) => this.captured[name] ?? all);
  }
}
