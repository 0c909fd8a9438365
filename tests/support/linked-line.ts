import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { seededRandom } from '../../src/cli/player.ts';
import type { Content } from '../../src/content/load.ts';
import { dueAtOf } from '../../src/conversation/duties.ts';
import type { Unreadable } from '../../src/conversation/event.ts';
import { registry } from '../../src/conversation/matters.ts';
import type { Address, Person } from '../../src/conversation/world.ts';
import { Line, type LineOptions } from '../../src/line/line.ts';
import { keyRingOf } from '../../src/store/keys.ts';
import { openStore } from '../../src/store/open.ts';
import type { LineStore } from '../../src/store/store.ts';
import { Link } from './links.ts';
import { shipped } from './shipped.ts';

type Given = 'restoredAt' | 'trial' | 'unsigned' | 'meter' | 'postAlert' | 'spare';

export interface LinkedOptions extends Partial<Pick<LineOptions, Given>> {
  readonly content?: Content;
}

/** A whole line on a database of its own, whose two links and clock the test holds. */
export class LinkedLine {
  readonly sms = new Link('sms', false, false);
  readonly telegram = new Link('telegram', false, false);
  now = Date.UTC(2030, 2, 4, 8);
  readonly store: LineStore;
  private readonly folder: string;
  readonly line: Line;
  private heard = 0;

  private constructor(store: LineStore, folder: string, content: Content, options: LinkedOptions) {
    this.store = store;
    this.folder = folder;
    this.line = new Line({
      store,
      content,
      registry,
      clock: { now: () => this.now },
      random: seededRandom(1),
      log: { write: () => undefined },
      channels: new Map([this.sms, this.telegram].map((link) => [link.name, link])),
      restoredAt: options.restoredAt ?? null,
      ...(options.trial === undefined ? {} : { trial: options.trial }),
      ...(options.unsigned === undefined ? {} : { unsigned: options.unsigned }),
      ...(options.meter ? { meter: options.meter } : {}),
      postAlert: options.postAlert ?? null,
      spare: options.spare ?? null,
    });
  }

  static async open(people: readonly Person[], options: LinkedOptions = {}): Promise<LinkedLine> {
    const content = options.content ?? shipped;
    const folder = mkdtempSync(join(tmpdir(), 'neckline-linked-'));
    const store = await openStore({
      url: `sqlite:${join(folder, 'line.db')}`,
      keys: keyRingOf(new Uint8Array(32).fill(1)),
      dueAtOf: (of) => dueAtOf(content.programme, of),
    });
    await store.putPeople(people);
    return new LinkedLine(store, folder, content, options);
  }

  /** Texts from an address, a second apart, each settled before the next. */
  async hears(from: Address, ...texts: readonly string[]): Promise<void> {
    for (const text of texts) {
      this.heard += 1;
      this.now += 1000;
      await this.line.hearText(from, `test:${this.heard}`, text, null);
      await this.line.settle();
    }
  }

  /** Parts of long texts, as `42 2/3 words`, from somebody's first address. */
  async hearsParts(from: Person, ...parts: readonly string[]): Promise<void> {
    for (const one of parts) {
      const [, reference = '', number, total, text = ''] = /^(\S+) (\d+)\/(\d+) (.*)$/s.exec(one) ?? [];
      this.heard += 1;
      this.now += 1000;
      const part = { reference, number: Number(number), total: Number(total), networkAt: this.now };
      await this.line.hearPart(from.addresses[0]!, `test:${this.heard}`, part, text);
      await this.line.settle();
    }
  }

  /** Something that is no text, from somebody's first address. */
  async sends(from: Person, why: Unreadable, words: string): Promise<void> {
    this.heard += 1;
    this.now += 1000;
    await this.line.hearUnreadable(from.addresses[0]!, `test:${this.heard}`, why, words);
    await this.line.settle();
  }

  /** Photos from somebody on Telegram, each a second after the other; `words` stand under each. */
  async shows(from: Person, words: string, files: readonly string[], album?: string): Promise<void> {
    for (const file of files) {
      this.heard += 1;
      this.now += 1000;
      const at = from.addresses.find((one) => one.channel === 'telegram')!;
      const more = { picture: { file }, ...(album === undefined ? {} : { album }) };
      await this.line.hearUnreadable(at, `test:${this.heard}`, 'picture', words, more);
      await this.line.settle();
    }
  }

  /** The same from somebody's first address. */
  says(from: Person, ...texts: readonly string[]): Promise<void> {
    return this.hears(from.addresses[0]!, ...texts);
  }

  /** Time passes, and what is due by then happens. */
  async later(minutes: number): Promise<void> {
    this.now += minutes * 60_000;
    await this.line.settle();
  }

  /** Everything somebody was sent so far, by both links. */
  heardBy(id: string): string {
    return [...this.sms.to(id), ...this.telegram.to(id)].join('\n');
  }

  /** A case up to the code on the glass; gives the code. */
  async coded(worker: Person): Promise<string> {
    const quick =
      'NEW AK 1982 F R 22x15x14 solid hypo irregular micro TSH normal felt linear signs 0 risks 0 bleeding 0';
    await this.says(worker, quick, 'OK', '1', '1357H', 'ALL', '50');
    const code = /CODE ([\d ]+)\. Write in pencil/.exec(this.heardBy(worker.id))?.[1] ?? '';
    return code.replaceAll(' ', '');
  }

  /** The same case up to where the jar gets its label. */
  async fixed(worker: Person): Promise<string> {
    const code = await this.coded(worker);
    await this.says(worker, code, '11', '6666', '9');
    return code;
  }

  async close(): Promise<void> {
    await this.store.close();
    rmSync(this.folder, { recursive: true, force: true });
  }
}
