/** The message of ours that somebody's text was sent as a reply to. */
import { type Kysely, sql } from 'kysely';
import { lostToken } from '../conversation/ask-token.ts';
import type { LineEvent } from '../conversation/event.ts';
import type { Context } from './context.ts';
import type { WrappedKey } from './data-keys.ts';
import { messageBound, type SealedText } from './messages.ts';
import type { MessagesTable, Tables } from './schema.ts';
import { openJson } from './seal.ts';
import { ifOpens } from './shut.ts';
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

/**
 * The token of the question in it; null when the text quotes nothing of ours or no question. `lostToken` where the quoted
 * text does not open, erased or damaged: had it none, its answer would count for whatever was asked last.
 */
export function* quotedTokenOf(context: Context, event: LineEvent, personId: string | null): Steps<string | null> {
  if (event.kind !== 'text' || !event.quotes || personId === null) return null;
  const { channel, address } = event.from;
  const of = { recipient: personId, channel, provider_id: event.quotes.providerId };
  const texts = (yield* all(context.hot.quoted, of)).map((row) => openText(context, row));
  // Each chat counts by itself, and a person may have several.
  const own = texts.find((text) => text?.address.address === address);
  if (own) return own.more?.ask?.token ?? null;
  return texts.includes(null) ? lostToken : null;
}

function openText(context: Context, row: QuotedRow): SealedText | null {
  if (row.sealed.length === 0) return null;
  return ifOpens(() => {
    const key = context.keys.unwrap(row.key_id, row);
    return key && openJson<SealedText>(key, row.sealed, messageBound(row.id));
  });
}
