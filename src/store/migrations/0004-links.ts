import { type Kysely, type Migration, sql } from 'kysely';

/** Which link carried a text, so that a link can be judged by what became of its texts. Older texts have none. */
export function links(): Migration {
  return {
    async up(db: Kysely<unknown>): Promise<void> {
      await db.schema.alterTable('messages').addColumn('channel', 'text').execute();
      await sql`create index messages_missed on messages (person_id) where status in ('failed', 'expired')`.execute(db);
    },
  };
}
