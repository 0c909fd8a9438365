import { type Kysely, type Migration, sql } from 'kysely';
import type { Dialect } from '../dialects/dialect.ts';

/**
 * What a question is about, and its choices, are sealed. What stood in the open waits in `questions_before` until the
 * line, which has the keys, has moved it over (`store/rebind.ts`).
 */
export function sealedMeaning({ bytes, integer, tableEnd }: Dialect): Migration {
  return {
    async up(db: Kysely<unknown>): Promise<void> {
      await sql`drop index questions_tag`.execute(db);
      await sql`drop index questions_opened`.execute(db);
      await db.schema.alterTable('questions').renameTo('questions_before').execute();
      await db.schema
        .createTable('questions')
        .modifyEnd(tableEnd)
        .addColumn('id', 'text', (c) => c.primaryKey())
        .addColumn('programme_id', 'text', (c) => c.notNull())
        .addColumn('case_id', 'text')
        .addColumn('tag', 'text', (c) => c.notNull())
        .addColumn('now', integer, (c) => c.notNull())
        .addColumn('asked_by', 'text', (c) => c.notNull())
        .addColumn('opened_at', integer, (c) => c.notNull())
        .addColumn('rung', integer, (c) => c.notNull())
        .addColumn('asked_of', 'text', (c) => c.notNull())
        .addColumn('answered_at', integer)
        .addColumn('answered_by', 'text')
        .addColumn('promise_until', integer)
        .addColumn('key_id', 'text', (c) => c.notNull())
        .addColumn('sealed', bytes, (c) => c.notNull())
        .execute();
      await sql`create unique index questions_tag on questions (programme_id, tag) where answered_at is null`.execute(
        db,
      );
      await sql`create index questions_opened on questions (programme_id, opened_at)`.execute(db);
    },
  };
}
