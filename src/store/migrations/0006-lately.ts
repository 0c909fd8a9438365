import { type Kysely, type Migration, sql } from 'kysely';

/** Finds the questions of the last day, whose tags are not given to another one. */
export const lately: Migration = {
  async up(db: Kysely<unknown>): Promise<void> {
    await sql`create index questions_opened on questions (programme_id, opened_at)`.execute(db);
  },
};
