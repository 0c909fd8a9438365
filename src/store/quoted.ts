/** The message of ours that somebody's text was sent as a reply to. */
import { type Kysely, sql } from 'kysely';
import type { LineEvent } from '../conversation/event.ts';
import type { Context } from './context.ts';
import type { WrappedKey } from './data-keys.ts';
import { messageBound, type SealedText } from './messages.ts';
import type { MessagesTable, Tables } from './schema.ts';
import { openJson } from './seal.ts';
import { all, reading, type Steps, slot } from './statement.ts';

type QuotedRow = Pick<MessagesTable, 'id' | 'key_id' | 'sealed'> & WrappedKey;

export function quotedStatements(db: Kysely<Tables>) {
  return {
    quoted: reading<{ recipient: string; channel: string; provider_id: string }, QuotedRow>(
      'quoted',
      sql`select m.id, m.key_id, m.sealed, k.wrapped, k.destroyed_at from messages as m
        left join data_keys as k on k.id = m.key_id where m.recipient = ${slot('recipient')}
        and m.provider_id = ${slot('provider_id')} and m.channel = ${slot('channel')} and m.direction = 'out'`.compile(
        db,
      ),
    ),
  };
}

/** The token of the question in it; null when the text quotes nothing of ours, no question, or one whose words were erased. */
export function* quotedTokenOf(context: Context, event: LineEvent, personId: string | null): Steps<string | null> {
  if (event.kind !== 'text' || !event.quotes || personId === null) return null;
  const { channel, address } = event.from;
  const of = { recipient: personId, channel, provider_id: event.quotes.providerId };
  for (const row of yield* all(context.hot.quoted, of)) {
    const key = context.keys.unwrap(row.key_id, row);
    const part = key && row.sealed.length > 0 ? openJson<SealedText>(key, row.sealed, messageBound(row.id)) : null;
    // Each chat counts by itself, and a person may have several.
    if (part?.address.address === address) return part.more?.ask?.token ?? null;
  }
  return null;
}
