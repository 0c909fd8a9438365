import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { seededRandom } from '../../src/cli/player.ts';
import { dueAtOf } from '../../src/conversation/duties.ts';
import { registry } from '../../src/conversation/matters.ts';
import { Line } from '../../src/line/line.ts';
import { openPool, type PgClient, type PgPool } from '../../src/store/dialects/postgres.ts';
import { keyRingOf } from '../../src/store/keys.ts';
import { openStore } from '../../src/store/open.ts';
import type { LineStore } from '../../src/store/store.ts';
import { serverPrograms, startServer } from '../store/postgres-server.ts';
import { Link, person } from '../support/links.ts';
import { shipped } from '../support/shipped.ts';

/* What somebody tries at a line whose database is a PostgreSQL server, and what becomes of it. */
const programs = serverPrograms();
const keys = keyRingOf(Buffer.alloc(32, 7));
const { programme } = shipped;
const [worker, other, doctor, coordinator] = [
  person('w', 'worker', ['sms']),
  person('v', 'worker', ['sms']),
  person('d', 'doctor', ['sms']),
  person('c', 'coordinator', ['sms']),
];

/** A line of its own process on the database; several may share it. */
class OneLine {
  readonly link = new Link('sms', false, false);
  readonly telegram = new Link('telegram', false, false);
  readonly logged: string[] = [];
  now = Date.UTC(2030, 2, 4, 8);
  readonly store: LineStore;
  readonly line: Line;
  private readonly seed: number;

  private constructor(store: LineStore, seed: number) {
    this.store = store;
    this.seed = seed;
    this.line = new Line({
      store,
      content: shipped,
      registry,
      clock: { now: () => this.now },
      random: seededRandom(seed),
      log: { write: (level, event, fields) => this.logged.push(`${level} ${event} ${JSON.stringify(fields ?? {})}`) },
      channels: new Map([this.link, this.telegram].map((link) => [link.name, link])),
    });
  }

  static async open(url: string, seed = 1): Promise<OneLine> {
    const of = (one: Parameters<typeof dueAtOf>[1]) => dueAtOf(programme, one);
    return new OneLine(await openStore({ url, keys, dueAtOf: of }), seed);
  }

  private count = 0;
  /** A text of somebody's; what it causes is done. */
  async says(from: { readonly addresses: typeof worker.addresses }, text: string, key?: string): Promise<string> {
    this.count += 1;
    this.now += 1_000;
    const handled = await this.line.hearText(from.addresses[0]!, key ?? `test:${this.seed}:${this.count}`, text, null);
    await this.line.settle();
    return handled;
  }

  heard(id: string): string {
    return this.link.to(id).join('\n');
  }
}

const quick = 'NEW AK 1982 F R 22x15x14 solid hypo irregular micro TSH normal felt linear signs 0 risks 0 bleeding 0';
const hostile = [
  `'; drop table cases; --`,
  `" or 1=1; --`,
  `$1 $2 $$ \\' \\x00 E'\\\\' `,
  `'||pg_sleep(9)||'`,
  'a\u0000b',
  '\ud83d \udc00',
  `\\'; copy people to program 'id'; --`,
  '%s %n {tag} {{code}}',
  `${"'".repeat(2_000)}`,
  '\u202e\u2028\r\n',
];

describe.skipIf(programs === null)('a line on PostgreSQL', () => {
  let server: Awaited<ReturnType<typeof startServer>>;
  let url: string;
  let pool: PgPool;
  let beside: PgClient;
  let line: OneLine;
  const open: OneLine[] = [];
  const another = async (seed: number): Promise<OneLine> => {
    const made = await OneLine.open(url, seed);
    open.push(made);
    return made;
  };

  beforeAll(async () => {
    server = await startServer(programs!);
  }, 300_000);
  afterAll(() => server.stop());
  beforeEach(async () => {
    url = server.fresh();
    line = await another(1);
    await line.store.putPeople([worker, other, doctor, coordinator]);
    pool = await openPool(url);
    beside = await pool.connect();
  });
  afterEach(async () => {
    beside.release();
    await pool.end();
    for (const one of open.splice(0)) await one.store.close();
  });

  const rows = async (sql: string, values: readonly unknown[] = []): Promise<readonly Record<string, unknown>[]> =>
    (await beside.query(sql, values)).rows;
  const tables = async (): Promise<number> =>
    Number((await rows("select count(*) from information_schema.tables where table_schema = 'public'"))[0]!.count);
  const coded = async (by: OneLine): Promise<string> => {
    for (const text of [quick, 'OK', '1', '1357H', 'ALL', '50']) expect(await by.says(worker, text)).toBe('done');
    return (/CODE ([\d ]+)\. Write in pencil/.exec(by.heard('w'))?.[1] ?? '').replaceAll(' ', '');
  };

  it.each(hostile.map((text) => [JSON.stringify(text).slice(0, 60), text] as const))(
    'takes %s for words, wherever they come in',
    async (_shown, text) => {
      const before = await tables();
      // As the doors make one of what the gateway calls it.
      const key = `sms:${text.replace(/[^\x20-\x7e]/g, '?').slice(0, 200)}`;
      for (const asked of [
        text,
        `NEW ${text}`,
        quick,
        `DOCTOR ${text}`,
        text,
        `NOTE ${text}`,
        `CASE ${text}`,
        `SOS ${text}`,
        text,
      ]) {
        expect(await line.says(worker, asked), asked).toBe('done');
      }
      expect(await line.says(other, 'LIST', key)).toBe('done');
      // As another line would read it, without what this one remembers.
      const later = await another(2);
      expect(await later.says(other, 'LIST', key)).toBe('duplicate');
      expect(await later.says({ addresses: [{ channel: 'sms', address: text }] }, 'SOS')).toBe('done');
      expect(await later.line.hearTap(worker.addresses[0]!, `tap:${key}`, text, text)).toBe('done');
      await later.line.settle();
      await later.store.putPeople([{ ...other, name: text }]);
      expect((await later.store.roster(programme.id)).find((one) => one.id === 'v')?.name).toBe(text);
      // No argument of a command can hold this sign.
      if (!text.includes('\u0000')) {
        expect(await later.store.findCase(programme.id, text)).toBeNull();
        expect(await later.store.caseIdOf(programme.id, text)).toBeNull();
        expect(await later.store.messages({ personId: text })).toEqual([]);
      }
      expect(await tables()).toBe(before);
      expect(await later.store.parked()).toEqual([]);
      expect(await later.store.verify()).toEqual([]);
      expect(line.heard('w')).toContain('HARD BREATHING');
    },
  );

  it.each([
    ['a case', 'update cases set fold_sealed = overlay(fold_sealed placing $1::bytea from length(fold_sealed))'],
    ['a history', 'update case_events set sealed = overlay(sealed placing $1::bytea from length(sealed))'],
    [
      'a conversation',
      "update conversations set sealed = overlay(sealed placing $1::bytea from length(sealed)) where person_id = 'w'",
    ],
    [
      'a wrapped key',
      "update data_keys set wrapped = overlay(wrapped placing $1::bytea from length(wrapped)) where id like 'case:%'",
    ],
  ])('with a damaged byte in %s hears an SOS of its worker and of everybody', async (_what, sql) => {
    expect(await coded(line)).toMatch(/^\d{8}$/);
    await beside.query(sql, [Buffer.from([0x5a])]);
    const later = await another(2);
    later.now = line.now + 60_000;
    if (!sql.includes('conversations')) expect((await later.store.verify()).length).toBeGreaterThan(0);
    for (const one of [worker, other]) expect(await later.says(one, 'SOS')).toBe('done');
    expect(later.heard('w')).toContain('HARD BREATHING');
    expect(later.heard('v')).toContain('HARD BREATHING');
    expect(later.heard('d')).toMatch(/SOS/);
    for (const word of ['LIST', 'NEW', '?']) expect(await later.says(other, word)).toBe('done');
  });

  it('whose connections are ended in the middle loses nothing that it called done, doubles nothing, and goes on', async () => {
    const ends: string[] = [];
    let running = true;
    const texts = (async () => {
      for (let turn = 0; turn < 150; turn += 1)
        ends.push(await line.line.hearText(worker.addresses[0]!, `kill:${turn}`, 'LIST', null).catch(() => 'failed'));
      running = false;
    })();
    let killed = 0;
    while (running) {
      const found = await rows(
        'select pg_terminate_backend(pid) from pg_stat_activity where datname = current_database() and pid <> pg_backend_pid()',
      );
      killed += found.length;
      await new Promise((resolve) => setImmediate(resolve));
    }
    await texts;
    expect(killed).toBeGreaterThan(5);
    expect(ends.filter((one) => one === 'failed').length).toBeGreaterThan(0);
    // The gateway brings again what it was not answered 200 for, also when an ended connection is met once more.
    for (const [turn, end] of ends.entries()) {
      let now: string = end;
      for (let tries = 0; now === 'failed' && tries < 10; tries += 1) {
        now = await line.line.hearText(worker.addresses[0]!, `kill:${turn}`, 'LIST', null).catch(() => 'failed');
      }
      expect(['done', 'duplicate']).toContain(now);
    }
    const taken = await line.store.wereTaken(
      programme.id,
      ends.map((_end, turn) => `kill:${turn}`),
    );
    expect(taken.every(Boolean)).toBe(true);
    const heard = (await line.store.messages({ personId: 'w' })).filter((one) => one.direction === 'in');
    expect(heard).toHaveLength(150);
    expect(await line.store.verify()).toEqual([]);
    expect(await line.says(other, 'SOS')).toBe('done');
    expect(line.heard('v')).toContain('HARD BREATHING');
  });

  it('shares one case with another line: each answer counts once, at whichever it comes in', async () => {
    const second = await another(2);
    expect(await line.says(worker, quick)).toBe('done');
    expect(await line.says(worker, 'OK')).toBe('done');
    for (let round = 0; round < 12; round += 1) {
      const address = worker.addresses[0]!;
      const ends = await Promise.all([
        line.line.hearText(address, `both:${round}`, round % 3 === 2 ? 'LIST' : '1', null),
        second.line.hearText(address, `both:${round}`, round % 3 === 2 ? 'LIST' : '1', null),
      ]);
      expect(ends.sort()).toEqual(['done', 'duplicate']);
    }
    await Promise.all([line.says(worker, 'SOS'), second.says(worker, 'NOTE she was here before')]);
    await Promise.all([line.says(doctor, '?'), second.says(coordinator, 'LIST')]);
    await Promise.all([line.line.settle(), second.line.settle()]);
    const sent = [...line.link.asked, ...second.link.asked].map((one) => one.id);
    expect(new Set(sent).size).toBe(sent.length);
    expect(`${line.heard('w')}${second.heard('w')}`).toContain('HARD BREATHING');
    for (const one of [line, second]) {
      expect(await one.store.parked()).toEqual([]);
      expect(await one.store.verify()).toEqual([]);
    }
  });
});
