/** A text that a later one about the same takes the place of is never sent: a person reads the newest only. */
import { type Kysely, sql } from 'kysely';
import type { OutboundMessage } from '../line/ports.ts';
import { type KeyRing, subjectHash } from './keys.ts';
import type { Plan } from './plan.ts';
import type { Tables } from './schema.ts';
import { reading, slot, writing } from './statement.ts';

/** More often than any text is doubted: it does not go out again by itself. */
const doubtsEnough = 9;

export function replaceStatements(db: Kysely<Tables>) {
  const older = sql`recipient = ${slot('recipient')} and subject = ${slot('subject')} and id <> ${slot('id')}`;
  // `in (...)` beside `=`: a partial index is used only where its own condition stands in the query.
  return {
    // The first of an alarm stays the first in its newer words.
    inheritPlace: writing<Replacing>(
      'replaceInherit',
      sql`update messages set place = 0 where id = ${slot('id')} and exists (select 1 from messages
        where ${older} and status in ('queued', 'sending') and status = 'queued' and place = 0)`.compile(db),
    ),
    replaceQueued: writing<Replacing>(
      'replaceQueued',
      sql`update messages set status = 'replaced'
        where ${older} and status in ('queued', 'sending') and status = 'queued'`.compile(db),
    ),
    replaceUnsure: writing<Replacing>(
      'replaceUnsure',
      sql`update messages set doubts = ${sql.lit(doubtsEnough)} where ${older} and status = 'unsure'`.compile(db),
    ),
    newer: reading<Replacing & { seq: number }, { id: string }>(
      'replaceNewer',
      sql`select id from messages where ${older} and seq > ${slot('seq')} and status in ('queued', 'sending')
        limit 1`.compile(db),
    ),
  };
}

export interface Replacing {
  readonly recipient: string;
  readonly subject: string;
  readonly id: string;
}

/** What a text is about; one without a subject is about its own words: the same words twice say no more than once. */
export function subjectOf(ring: KeyRing, programmeId: string, { to, subject, text }: OutboundMessage): string {
  return subjectHash(ring, programmeId, to, subject === undefined ? ['words', text] : ['about', subject]);
}

/** Plans that a text takes the place of what waits and is about the same. Comes after the text itself. */
export function planReplacing(
  plan: Plan,
  statements: ReturnType<typeof replaceStatements>,
  ring: KeyRing,
  programmeId: string,
  message: OutboundMessage,
  row: Replacing,
): void {
  const others = (message.replaces ?? []).map((one) => subjectHash(ring, programmeId, message.to, ['about', one]));
  for (const subject of [row.subject, ...others]) {
    const by = { recipient: row.recipient, subject, id: row.id };
    plan.may(statements.inheritPlace, by);
    plan.may(statements.replaceQueued, by);
    plan.may(statements.replaceUnsure, by);
  }
}
