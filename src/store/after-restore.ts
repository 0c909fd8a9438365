/** A restored line does not know what it said after its backup: what waited then may be out already. */
import { type Kysely, sql } from 'kysely';
import type { Tables } from './schema.ts';
import { change, type Steps, slot, writing } from './statement.ts';

export type RestoreStatements = ReturnType<typeof restoreStatements>;

export function restoreStatements(db: Kysely<Tables>) {
  const waited = sql`direction = 'out' and status in ('queued', 'sending')`;
  return {
    // Doubted as often as may be, so that it does not go out again by itself.
    hold: writing<Record<string, never>>(
      'holdRestored',
      sql`update messages set status = 'unsure', doubts = 9, claimed_by = null, lease_until = null
        where ${waited} and safety = 0`.compile(db),
    ),
    queue: writing<{ now: number }>(
      'queueRestored',
      sql`update messages set status = 'queued', claimed_by = null, lease_until = null
        where ${waited} and safety = 1 and valid_until >= ${slot('now')}`.compile(db),
    ),
  };
}

/**
 * Texts of safety that waited go out (rather twice than never); all others are held as unsure and stay so. Returns how
 * many are held and how many go.
 */
export function* settleRestored(statements: RestoreStatements, now: number): Steps<{ held: number; sent: number }> {
  const held = yield* change(statements.hold, {});
  const sent = yield* change(statements.queue, { now });
  return { held, sent };
}
