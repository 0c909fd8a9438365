/**
 * The witness of all rows on PostgreSQL: triggers of the database, which know the secret only while a connection of the
 * line tells it. What is written by anybody else moves no sum, and is found. Each connection keeps sums of its own, so
 * that none waits for another; together they are the sums of all rows.
 */
import { hash } from 'node:crypto';
import { Sums } from '../witness.ts';
import type { PgClient } from './postgres.ts';

/** Name of the setting in which a connection knows the secret. */
const secretSetting = 'neckline.witness';

/** Tables that are watched: all of the line's but the sums and what the migrations keep. */
const watched = `select tablename as name from pg_tables where schemaname = current_schema()
  and tablename <> 'witness' and tablename not like 'kysely%' order by tablename`;

const rowSum = (table: string, rows: string) =>
  `coalesce((select bit_xor(('x' || encode(sha256(convert_to(
    current_setting('${secretSetting}') || ${table} || r::text, 'UTF8')), 'hex'))::bit(256)) from ${rows} as r), zero)`;

/**
 * Adds what a statement changed to the sums of its connection. What stands in the table is masked anew each time, so that
 * two states of it do not tell the hash of one row. A connection has its number for life, by a lock.
 */
const functions = [
  `create or replace function neckline_moved() returns trigger language plpgsql as $$
declare
  zero constant bit(256) := repeat('0', 256)::bit(256);
  moved bit(256) := zero;
  mine text := current_setting('neckline.shard', true);
  number int := 1;
begin
  if coalesce(current_setting('${secretSetting}', true), '') = '' then return null; end if;
  if TG_OP <> 'DELETE' then moved := moved # ${rowSum('TG_TABLE_NAME', 'added')}; end if;
  if TG_OP <> 'INSERT' then moved := moved # ${rowSum('TG_TABLE_NAME', 'removed')}; end if;
  if moved = zero then return null; end if;
  if coalesce(mine, '') = '' then
    while not pg_try_advisory_lock(73033, number) loop number := number + 1; end loop;
    mine := number::text;
    perform set_config('neckline.shard', mine, false);
  end if;
  perform neckline_add(mine || ':' || TG_TABLE_NAME, moved);
  return null;
end $$`,
  `create or replace function neckline_mask(name text, turn bigint) returns bit(256) language sql as $$
  select ('x' || encode(sha256(convert_to(
    current_setting('${secretSetting}') || 'mask' || name || ' ' || turn::text, 'UTF8')), 'hex'))::bit(256)
$$`,
  `create or replace function neckline_add(which text, moved bit(256)) returns void language plpgsql as $$
declare
  before record;
begin
  select w.turn, w.sum into before from witness w where w.name = which for update;
  if not found then
    insert into witness (name, turn, sum) values (which, 1, neckline_mask(which, 1) # moved);
  else
    update witness set turn = before.turn + 1,
      sum = before.sum # neckline_mask(which, before.turn) # moved # neckline_mask(which, before.turn + 1)
      where name = which;
  end if;
end $$`,
];

/** Lets a connection move the sums. */
export async function tellSecret(client: PgClient, secret: string): Promise<void> {
  await client.query('select set_config($1, $2, false)', [secretSetting, secret]);
}

/** Sets the triggers on every table, and takes the rows as they are for right. The connection knows the secret. */
export async function watchTables(client: PgClient): Promise<void> {
  for (const one of functions) await client.query(one);
  for (const { name } of (await client.query(watched)).rows as { name: string }[]) {
    for (const [when, referencing] of [
      ['insert', 'new table as added'],
      ['update', 'old table as removed new table as added'],
      ['delete', 'old table as removed'],
    ] as const) {
      const trigger = `neckline_${when}`;
      await client.query(`drop trigger if exists ${trigger} on "${name}"`);
      await client.query(`create trigger ${trigger} after ${when} on "${name}" referencing ${referencing}
        for each statement execute function neckline_moved()`);
    }
  }
  await takeStock(client);
}

/** Takes the rows as they are for right. Who writes meanwhile waits, and is added afterwards. */
export async function takeStock(client: PgClient): Promise<void> {
  await client.query('begin');
  try {
    await client.query('lock table witness in exclusive mode');
    await client.query('delete from witness');
    for (const { name } of (await client.query(watched)).rows as { name: string }[]) {
      await client.query(
        `select neckline_add($1, (select ${rowSum(`'${name}'`, `"${name}"`)}
        from (select repeat('0', 256)::bit(256) as zero) as none))`,
        [`0:${name}`],
      );
    }
    await client.query('commit');
  } catch (thrown) {
    await client.query('rollback').catch(() => undefined);
    throw thrown;
  }
}

/** Tables whose rows are not what was written through the line. */
export async function changedTables(client: PgClient, secret: string): Promise<readonly string[]> {
  await client.query('begin isolation level repeatable read');
  try {
    const written = new Sums();
    for (const { name, turn, sum } of (await client.query('select name, turn, sum::text as sum from witness')).rows) {
      const mask = hash('sha256', `${secret}mask${name} ${turn}`, 'buffer');
      const table = String(name).slice(String(name).indexOf(':') + 1);
      written.add(table, bytesOf(sum));
      written.add(table, mask);
    }
    const counted = new Sums();
    for (const { name } of (await client.query(watched)).rows as { name: string }[]) {
      const { rows } = await client.query(`select (${rowSum(`'${name}'`, `"${name}"`)})::text as sum
        from (select repeat('0', 256)::bit(256) as zero) as none`);
      counted.add(name, bytesOf(rows[0].sum));
    }
    return written.empty ? ['witness'] : written.differing(counted);
  } finally {
    await client.query('rollback');
  }
}

/** Bits as text into bytes. */
function bytesOf(bits: string): Buffer {
  return Buffer.from(bits.match(/.{8}/g)?.map((byte) => Number.parseInt(byte, 2)) ?? []);
}
