/** What became of the texts of one link, and the segments that were bought for it. */
import { type Kysely, sql } from 'kysely';
import type { LinkFacts } from '../line/ports.ts';
import type { Plan } from './plan.ts';
import type { MetaTable, Tables } from './schema.ts';
import { all, change, one, reading, rowsAtMost, type Statement, type Steps, slot, writing } from './statement.ts';

/** Texts of a link that are looked at, the newest. */
const looked = 100;

export type LinkStatements = ReturnType<typeof linkStatements>;

export function linkStatements(db: Kysely<Tables>) {
  return {
    sent: reading<{ channel: string; limit: number }, { handed_at: number; reported_at: number | null }>(
      'linkSent',
      sql`select handed_at, reported_at from messages where channel = ${slot('channel')} and direction = 'out'
        and handed_at is not null and seq > (select max(seq) from messages) - 5000 order by seq desc limit ${rowsAtMost('limit')}`.compile(
        db,
      ),
    ),
    heard: reading<{ channel: string }, { at: number | null }>(
      'linkHeard',
      sql`select max(at) as at from messages where channel = ${slot('channel')} and direction = 'in'
        and seq > (select max(seq) from messages) - 5000`.compile(db),
    ),
    // First aid and answers only: others may be held for the day or for a budget. By when they were said: each try puts
    // `not_before` off again.
    waiting: reading<{ channel: string }, { at: number | null }>(
      'linkWaiting',
      sql`select min(at) as at from messages where status = 'queued' and lane <= 1
        and channel = ${slot('channel')}`.compile(db),
    ),
    value: reading<{ name: string }, Pick<MetaTable, 'value'>>(
      'creditLeft',
      db.selectFrom('meta').select('value').where('name', '=', slot('name')),
    ),
    spend: writing<{ name: string; segments: number }>(
      'creditSpend',
      sql`update meta set value = cast(cast(value as integer) - ${slot('segments')} as text)
        where name = ${slot('name')}`.compile(db),
    ),
  };
}

const leftName = (channel: string): string => `credit-left:${channel}`;
const grantedName = (channel: string): string => `credit-granted:${channel}`;

/** Plans to count down from `segments` from now on. */
export function putCredit(plan: Plan, setMark: Statement<MetaTable, never>, channel: string, segments: number): void {
  for (const name of [leftName(channel), grantedName(channel)]) plan.may(setMark, { name, value: String(segments) });
}

/** Takes the segments of a text that was handed over off the budget of its link; nothing where none was set. */
export function* spendCredit(statements: LinkStatements, channel: string, segments: number): Steps<void> {
  yield* change(statements.spend, { name: leftName(channel), segments });
}

/** What a link is judged by. */
export function* linkFacts(statements: LinkStatements, channel: string): Steps<LinkFacts> {
  const sent = yield* all(statements.sent, { channel, limit: looked });
  const waiting = (yield* one(statements.waiting, { channel }))?.at ?? null;
  const heard = (yield* one(statements.heard, { channel }))?.at ?? null;
  const left = (yield* one(statements.value, { name: leftName(channel) }))?.value ?? null;
  const granted = (yield* one(statements.value, { name: grantedName(channel) }))?.value ?? null;
  return {
    sent: sent.map((row) => ({ handedAt: row.handed_at, reportedAt: row.reported_at })),
    heardAt: heard,
    waitingSince: waiting,
    credit: left === null ? null : { left: Number(left), granted: Number(granted ?? left) },
  };
}
