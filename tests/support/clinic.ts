import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import Database from 'better-sqlite3';
import { readLine } from '../../src/channels/play/script.ts';
import { type PlayedMessage, Player } from '../../src/cli/player.ts';
import { registry } from '../../src/conversation/matters.ts';
import type { Store } from '../../src/line/ports.ts';
import { openKeyRing } from '../../src/store/keys.ts';
import { openStore } from '../../src/store/open.ts';
import { countSegments } from '../../src/text/segments.ts';
import { shipped as content } from './shipped.ts';

/** Rows that say what is so: cases, people, questions, invitations. What was merely said and heard is left out. */
const facts = [
  'select id, site_id, owner_id, status, open, sequence, hex(head) head from cases order by id',
  'select id, roles, site_id, locale, rank, state, practised, shared, hex(sealed) sealed from people order by id',
  'select hex(hash) hash, person_id from addresses order by hash, person_id',
  'select id, tag, answered_at, answered_by from questions order by id',
  'select id, person_id, used from invitations order by id',
];

/** Two sites, two laboratories, everybody that could be written to by mistake. */
export const everybody = [
  'phone w +000555010001 role=worker',
  'phone v +000555010011 role=worker',
  'phone x +000555010021 role=worker site=kesu',
  'phone d +000555010002 role=doctor',
  'phone e +000555010012 role=doctor',
  'phone l +000555010003 role=lab',
  'phone m +000555010013 role=lab site=mora',
  'phone c +000555010004 role=coordinator',
  'phone n +000555010099',
];

/** One line of a log, as the line wrote it and before anything is left out. */
export type Logged = readonly [level: string, event: string, fields: Readonly<Record<string, unknown>>];

/** A whole line on a database of its own, played by script lines, with what a guard wants to look at. */
export class Clinic {
  readonly messages: PlayedMessage[] = [];
  readonly faults: string[] = [];
  readonly logged: Logged[] = [];
  private readonly folder = mkdtempSync(join(tmpdir(), 'neckline-clinic-'));
  private readonly file = join(this.folder, 'clinic.db');
  private readonly player: Player;
  private reader: Database.Database | null = null;
  private heardUpTo = 0;

  constructor(programme = content.programme) {
    this.player = new Player({
      content: { ...content, programme },
      registry,
      countSegments,
      log: { write: (level, event, fields = {}) => this.logged.push([level, event, fields]) },
      open: (dueAtOf) =>
        openStore({
          url: `sqlite:${this.file}`,
          keys: openKeyRing(`${this.file}.key`),
          dueAtOf,
          exclusive: false,
        }),
      emit: (played) => {
        if (played.kind === 'message') this.messages.push(played.message);
        else if (played.kind === 'failed') this.faults.push(played.failed);
        else this.faults.push(`bad line: ${played.expected}`);
      },
    });
  }

  /** Plays lines; throws on the first that fails. */
  async play(...lines: readonly string[]): Promise<void> {
    for (const line of lines) {
      await this.player.play(readLine(line));
      if (this.faults.length > 0) throw new Error(`${line}: ${this.faults.join('; ')}`);
    }
  }

  /** A text with anything in it, also line ends and control characters. */
  async text(phone: string, text: string, forged = false): Promise<void> {
    await this.player.play({ kind: 'send', name: phone, text, agoMs: 0, forged });
  }

  /** Texts that left the line since the last look, in order. */
  heard(): readonly PlayedMessage[] {
    const fresh = this.messages.slice(this.heardUpTo);
    this.heardUpTo = this.messages.length;
    return fresh.filter((one) => one.dir === 'out');
  }

  /** Texts that a phone got since the last look of anybody. */
  heardBy(phone: string): readonly string[] {
    return this.heard()
      .filter((one) => one.phone === phone)
      .map((one) => one.text);
  }

  /** The first group of a pattern in the texts that a phone ever got, newest first. Throws when none has it. */
  found(phone: string, pattern: RegExp): string {
    for (const one of [...this.messages].reverse()) {
      const found = one.phone === phone && one.dir === 'out' ? pattern.exec(one.text) : null;
      if (found) return found[1] ?? found[0];
    }
    throw new Error(`${phone} never got ${pattern}`);
  }

  store(): Promise<Store> {
    return this.player.store();
  }

  /** All that is so, as one text: equal before and after means that nothing changed. */
  snapshot(): string {
    this.reader ??= new Database(this.file, { readonly: true });
    return facts.map((sql) => JSON.stringify(this.reader!.prepare(sql).all())).join('\n');
  }

  async close(): Promise<void> {
    this.reader?.close();
    await this.player.close();
    rmSync(this.folder, { recursive: true, force: true });
  }
}

const findings =
  'NEW AK 1982 F R 22x15x14 solid hypo irregular micro TSH normal felt linear signs 0 risks 0 bleeding 0';

/** Brings worker w's patient AK to a place of the straight case. Gives the case code, '' before there is one. */
export async function bringTo(clinic: Clinic, place: Place): Promise<string> {
  const code = (): string => clinic.found('w', /CODE (\d{4} \d{4})/).replace(' ', '');
  await clinic.play(...everybody);
  if (place === 'nothing') return '';
  await clinic.play(`w> ${findings}`);
  if (place === 'findings') return '';
  await clinic.play('w> OK', 'w> 1', 'w> 1357H');
  if (place === 'ready') return '';
  await clinic.play('w> ALL', 'w> 50');
  await clinic.play(`w> ${code()}`);
  if (place === 'sampling') return code();
  await clinic.play('w> 11', 'w> 6600', 'w> 9', 'w> 1', 'w> 7', 'wait 20m', 'w> 1');
  if (place === 'watched') return code();
  await clinic.play('wait 10m', 'w> 3', 'w> 5');
  if (place === 'to-post') return code();
  await clinic.play(`w> POST ${code()}`, 'wait 1d');
  if (place === 'posted') return code();
  await clinic.play(`l> GOT ${code()} 2`, 'wait 1d', `l> ${code()} Thy4 papillary`);
  if (place === 'read-back') return code();
  await clinic.play(`l> YES ${clinic.found('l', /YES (\d{4})/)} 1982`);
  return code();
}

export const places = [
  'nothing',
  'findings',
  'ready',
  'sampling',
  'watched',
  'to-post',
  'posted',
  'read-back',
  'result',
] as const;
export type Place = (typeof places)[number];
