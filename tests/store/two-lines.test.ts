import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { freshState } from '../../src/conversation/state.ts';
import { openPool } from '../../src/store/dialects/postgres.ts';
import { keyRingOf } from '../../src/store/keys.ts';
import { openStore } from '../../src/store/open.ts';
import type { LineStore } from '../../src/store/store.ts';
import { change, message, morning, person, programmeId, text, timer } from '../contract/store-samples.ts';
import { shipped } from '../support/shipped.ts';
import { serverPrograms, startServer } from './postgres-server.ts';

const programs = serverPrograms();
const keys = keyRingOf(Buffer.alloc(32, 7));

describe.skipIf(programs === null)('two lines on one PostgreSQL database', () => {
  let server: Awaited<ReturnType<typeof startServer>>;
  let lines: [LineStore, LineStore];
  let url: string;
  const ids = Array.from({ length: 12 }, (_, index) => `p${index}`);

  beforeAll(async () => {
    server = await startServer(programs!);
    url = server.fresh();
    lines = [await openStore({ url, keys }), await openStore({ url, keys })];
    await lines[0].putPeople(ids.map((id) => person(id)));
  });
  afterAll(async () => {
    for (const line of lines) await line.close();
    server.stop();
  });

  it('the same event at both is handled once', async () => {
    const rounds = Array.from({ length: 30 }, (_, index) => change(`same${index}`, { keys: [`same${index}`] }));
    const [one, two] = await Promise.all(lines.map((line) => line.commit(rounds)));
    for (const index of rounds.keys()) expect([one![index], two![index]].sort()).toEqual(['committed', 'duplicate']);
  });

  it('a conversation written at both goes on from one of them', async () => {
    let version: number | null = null;
    for (let round = 0; round < 20; round += 1) {
      const put = (line: number) =>
        change(`turn${round}-${line}`, {
          conversation: { personId: 'p0', state: { ...freshState, entries: round }, version },
          outbox: [message(`turn${round}-${line}:0`, 'p0')],
        });
      const ends = await Promise.all(lines.map((line, index) => line.commit([put(index)])));
      expect(ends.flat().sort()).toEqual(['committed', 'conflict']);
      const [found] = await lines[0].load([text(`look${round}`, 'p0', '?')], shipped.flows);
      version = found!.conversation!.version;
      expect(version).toBe(round + 1);
    }
    expect(await lines[0].messages({ personId: 'p0' })).toHaveLength(20);
  });

  it('each text is claimed by one of them, in order for each person, and none is left', async () => {
    await lines[0].commit(
      ids
        .slice(1)
        .flatMap((id) =>
          [0, 1, 2, 3].map((turn) => change(`q${turn}${id}`, { outbox: [message(`${id}#${turn}`, id)] })),
        ),
    );
    const sent: string[] = [];
    const pump = async (line: LineStore) => {
      for (let idle = 0; idle < 3; ) {
        const rows = await line.claimOutbox(morning, 3);
        idle = rows.length === 0 ? idle + 1 : 0;
        for (const { message: one } of rows) {
          sent.push(one.id);
          await line.settleOutbox(one.id, 'sent', morning, null, null);
        }
      }
    };
    await Promise.all(lines.map(pump));
    const asked = sent.filter((id) => id.includes('#'));
    expect(new Set(asked).size).toBe(asked.length);
    expect(asked).toHaveLength(44);
    for (const id of ids.slice(1)) {
      expect(asked.filter((one) => one.startsWith(`${id}#`))).toEqual([0, 1, 2, 3].map((turn) => `${id}#${turn}`));
    }
  });

  it('texts that one took and died over go out from the other, once its time is over and never before', async () => {
    const ids = ['over:0', 'over:1'];
    const outbox = [message(ids[0]!, 'p4', { safety: true }), message(ids[1]!, 'p5')];
    await lines[0].commit([change('over', { outbox })]);
    const claimed = await lines[0].claimOutbox(morning, 99);
    expect(claimed.map((one) => one.message.id).sort()).toEqual(ids);
    expect(await lines[1].takeOver(morning + 119_000)).toBe(0);
    // Its own are on their way, however slow the network is.
    expect(await lines[0].takeOver(morning + 121_000)).toBe(0);
    expect(await lines[1].takeOver(morning + 121_000)).toBe(2);
    const again = await lines[1].claimOutbox(morning + 121_000, 99);
    expect(again.map((one) => one.message.id)).toContain(ids[0]);
    // A text that is not about safety is doubted, as after a restart.
    const doubtful = (await lines[1].messages({ personId: 'p5' })).find((one) => one.id === ids[1]);
    expect(doubtful!.status).toBe('unsure');
    for (const { message: one } of again) await lines[1].settleOutbox(one.id, 'sent', morning + 121_000, null, null);
    await lines[1].report(ids[1]!, 'delivered', morning + 122_000);
  });

  it('what one takes while the other begins stays with it, also where their clocks differ; a clock set back frees it', async () => {
    const id = 'beside:0';
    await lines[0].commit([change('beside', { outbox: [message(id, 'p6', { safety: true })] })]);
    expect((await lines[0].claimOutbox(morning, 99)).map((one) => one.message.id)).toEqual([id]);
    // The other one read its clock a moment before, or its clock is behind.
    for (const behindMs of [1, 180, 60_000]) expect(await lines[1].recoverOutbox(morning - behindMs)).toBe(0);
    expect(await lines[1].takeOver(morning - 60_000)).toBe(0);
    // Held until a day that is far away: the clock was set back, and nobody waits for that day.
    expect(await lines[1].takeOver(morning - 3_600_000)).toBe(1);
    expect((await lines[1].claimOutbox(morning, 99)).map((one) => one.message.id)).toEqual([id]);
    expect(await lines[0].recoverOutbox(morning - 3_600_000)).toBe(1);
    expect((await lines[0].claimOutbox(morning, 99)).map((one) => one.message.id)).toEqual([id]);
    await lines[0].settleOutbox(id, 'sent', morning, null, null);
  });

  it('a due row taken by one is left alone by the other until its lease is over', async () => {
    await lines[0].commit([change('arm', { due: [timer('arm:d0', 'p1', morning)] })]);
    expect((await lines[0].dueBefore(morning, 9)).map((row) => row.id)).toEqual(['arm:d0']);
    expect(await lines[1].dueBefore(morning, 9)).toEqual([]);
    expect((await lines[0].dueBefore(morning, 9)).map((row) => row.id)).toEqual(['arm:d0']);
    expect((await lines[1].nextDueAt()) ?? Number.POSITIVE_INFINITY).toBeGreaterThan(morning);
    expect((await lines[1].dueBefore(morning + 60_000, 9)).map((row) => row.id)).toEqual(['arm:d0']);
  });

  it('changes of the roster made at both at once are seen at both', async () => {
    const names = async (line: LineStore) => (await line.roster(programmeId)).map((one) => one.name);
    for (const line of lines) expect(await names(line)).toHaveLength(ids.length);
    for (let round = 0; round < 10; round += 1) {
      const put = (line: number) =>
        lines[line]!.putPeople([person(`p${line}`, { name: `Round ${round} ${line}` }), person(`n${round}-${line}`)]);
      // Read while both are written: what one of them reads half-way must not hide the rest.
      await Promise.all([put(0), put(1), names(lines[0]), names(lines[1])]);
      const [one, two] = [await names(lines[0]), await names(lines[1])];
      expect(one).toEqual(two);
      expect(one).toEqual(expect.arrayContaining([`Round ${round} 0`, `Round ${round} 1`, `Person n${round}-1`]));
    }
  });

  it('an erasure at one is an erasure at the other', async () => {
    for (const line of lines) expect((await line.roster(programmeId)).map((one) => one.id)).toContain('p2');
    await lines[1].load([text('know', 'p2', '?')], shipped.flows);
    await lines[0].erasePerson('p2', morning);
    expect((await lines[1].load([text('know', 'p2', '?')], shipped.flows))[0]?.person).toBeNull();
    expect(await lines[1].messages({ personId: 'p2' })).toEqual([]);
    for (const line of lines) expect((await line.roster(programmeId)).map((one) => one.id)).not.toContain('p2');
  });

  it('an erased key stands in no table once nobody reads an older state; the server keeps what it keeps, and says so', async () => {
    const reader = await openPool(url);
    const client = await reader.connect();
    const { rows } = await client.query("select wrapped from data_keys where id = 'person:p3'");
    const isThere = async (): Promise<boolean> => {
      await client.query('checkpoint');
      const found = await client.query(
        "select position($1::bytea in pg_read_binary_file(pg_relation_filepath('data_keys'))) as place",
        [rows[0].wrapped],
      );
      return Number(found.rows[0].place) > 0;
    };
    await client.query('begin isolation level repeatable read');
    await client.query('select count(*) from people');
    await lines[0].erasePerson('p3', morning);
    expect(await lines[0].scrub()).toBe('held');
    await client.query('rollback');
    expect(await isThere()).toBe(true);
    // Whoever holds the table is waited for, but not for ever.
    await client.query('begin');
    await client.query('lock table data_keys in access share mode');
    expect(await lines[0].scrub()).toBe('held');
    await client.query('rollback');
    expect(await lines[0].scrub()).toBe('server');
    expect(await isThere()).toBe(false);
    client.release();
    await reader.end();
    expect(await lines[0].load([text('know', 'p4', '?')], shipped.flows)).toHaveLength(1);
  });

  it('keeps the same promises as the embedded engine after both were busy', async () => {
    expect(await lines[0].verify()).toEqual([]);
    expect(await lines[1].nextOutboxAt()).toBeNull();
  });
});
