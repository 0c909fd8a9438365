import { type Kysely, type Migration, sql } from 'kysely';

/** Cases by the day they were opened, closed ones too: for figures. The column never changes, so only a new case writes it. */
export const opened: Migration = {
  async up(db: Kysely<unknown>): Promise<void> {
    await sql`create index cases_opened on cases (programme_id, opened_at)`.execute(db);
  },
};
