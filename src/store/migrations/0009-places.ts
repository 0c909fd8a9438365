import { type Kysely, type Migration, sql } from 'kysely';
import type { Dialect } from '../dialects/dialect.ts';

/** What goes before the rest of its lane, and what a waiting text is about (a keyed hash). Older texts have no subject. */
export function places({ integer }: Dialect): Migration {
  return {
    async up(db: Kysely<unknown>): Promise<void> {
      await db.schema
        .alterTable('messages')
        .addColumn('place', integer, (c) => c.notNull().defaultTo(1))
        .execute();
      await db.schema.alterTable('messages').addColumn('subject', 'text').execute();
      await sql`create index messages_unsure on messages (recipient) where status = 'unsure'`.execute(db);
    },
  };
}
